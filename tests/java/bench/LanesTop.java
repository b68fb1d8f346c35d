package bench;

import com.sun.management.ThreadMXBean;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import table.plans.LanesTopPlan;
import table.plans.RunLog;

/** A plan with lanes on a table top: the log of a run, and how much memory passes took. */
public final class LanesTop implements LanesTopPlan.Parts {

    private static final long MILLISECOND = 1_000_000L;

    private double travelledCm;
    private boolean bumperPressed;
    private boolean trayClosed;
    private boolean liftDone;

    public static void main(String[] arguments) throws IOException {
        System.out.println(bytesOfManyPasses() + " bytes");
        System.out.print(logOfARun());
    }

    /** A run in which one lane waits for the other, and the operator stops the plan. */
    private static CharSequence logOfARun() throws IOException {
        LanesTop robot = new LanesTop();
        LanesTopPlan plan = new LanesTopPlan(robot);
        RunLog log = new RunLog("lanes_top", "", plan);
        for (int i = 0; i < 125; i++) {
            robot.travelledCm = i;
            robot.bumperPressed = i >= 90;
            robot.trayClosed = i == 100;
            plan.pass(i * 20 * MILLISECOND);
            log.pass();
        }
        plan.stopEverything();
        StringBuilder written = new StringBuilder();
        log.write(written::append);
        return written;
    }

    /** Passes with many moves of lanes in them; only making the plans may take memory. */
    private static long bytesOfManyPasses() {
        ThreadMXBean thread = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long least = Long.MAX_VALUE;
        for (int round = 0; round < 5; round++) {
            LanesTop robot = new LanesTop();
            LanesTopPlan plan = new LanesTopPlan(robot);
            RunLog log = new RunLog("lanes_top", "", plan);
            plan.pass(0);
            log.pass();
            long before = thread.getCurrentThreadAllocatedBytes();
            for (int i = 1; i < 2000; i++) {
                robot.travelledCm = i;
                robot.bumperPressed = i % 150 == 0;
                robot.trayClosed = i % 300 == 0;
                plan.pass(i * MILLISECOND);
                log.pass();
            }
            least = Math.min(least, thread.getCurrentThreadAllocatedBytes() - before);
        }
        return least;
    }

    @Override
    public double driveTravelledCm() {
        return travelledCm;
    }

    @Override
    public boolean isBumperPressed() {
        return bumperPressed;
    }

    @Override
    public boolean isTrayClosed() {
        return trayClosed;
    }

    @Override
    public boolean isLiftDone() {
        return liftDone;
    }

    @Override
    public void clawClose() {
        // It does not matter here.
    }

    @Override
    public void driveForward(double powerPercent) {
        // It does not matter here.
    }

    @Override
    public void liftTo(double heightTicks) {
        // It does not matter here.
    }

    @Override
    public void signalLight() {
        // It does not matter here.
    }

    @Override
    public void driveStop() {
        // It does not matter here.
    }

    @Override
    public void liftStop() {
        // It does not matter here.
    }

    @Override
    public void clawStop() {
        // It does not matter here.
    }

    @Override
    public void signalStop() {
        // It does not matter here.
    }
}

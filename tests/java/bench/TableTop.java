package bench;

import com.sun.management.ThreadMXBean;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import table.plans.MarkSees;
import table.plans.RunLog;
import table.plans.TableTopPlan;

/**
 * A plan tried out without a robot, as a team can do it on a laptop: pretend sensors, one pass
 * after the other, until the plan is at its finish. Then it says how much memory the passes took.
 */
public final class TableTop implements TableTopPlan.Parts {

    private static final long MILLISECOND = 1_000_000L;

    private final StringBuilder diary = new StringBuilder();
    private boolean writes = true;
    private boolean bumperPressed;
    private double rangeFrontCm = Double.NaN;
    private double travelledCm;
    private boolean liftDone;
    private MarkSees mark = MarkSees.UNSURE;

    public static void main(String[] arguments) throws IOException {
        TableTop robot = new TableTop();
        TableTopPlan plan = new TableTopPlan(robot);
        plan.pass(0);
        robot.travelledCm = 95.0;
        plan.pass(20 * MILLISECOND);
        robot.travelledCm = 70.0;
        plan.pass(40 * MILLISECOND);
        robot.bumperPressed = true;
        plan.pass(60 * MILLISECOND);
        robot.liftDone = true;
        robot.mark = MarkSees.LEFT;
        plan.pass(80 * MILLISECOND);
        System.out.println(robot.diary.toString().trim());
        System.out.println(plan.stepInWords() + " because " + plan.why());
        System.out.println(plan.isFinished() + " " + plan.wasCutOff() + " " + plan.secondsInMatch());
        System.out.println(bytesOfManyPasses() + " bytes");
        System.out.print(logOfARun());
    }

    /** A run in which a sensor fails, time goes by and the operator stops the plan. */
    private static CharSequence logOfARun() throws IOException {
        TableTop robot = new TableTop();
        robot.writes = false;
        TableTopPlan plan = new TableTopPlan(robot);
        RunLog log = new RunLog("table_top", "side \"left\"", plan);
        for (int i = 0; i < 95; i++) {
            robot.rangeFrontCm = i < 30 ? 120.25 - i : i < 60 ? Double.NaN : 5.0;
            robot.travelledCm = i / 3.0;
            robot.mark = i < 80 ? MarkSees.UNSURE : null;
            robot.liftDone = i >= 80;
            plan.pass(i * 33 * MILLISECOND);
            log.pass();
        }
        plan.stopEverything();
        StringBuilder written = new StringBuilder();
        log.write(written::append);
        return written;
    }

    /** Plays many matches with many moves in them; only making the plans may take memory. */
    private static long bytesOfManyPasses() {
        ThreadMXBean thread = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long least = Long.MAX_VALUE;
        for (int round = 0; round < 5; round++) {
            TableTop robot = new TableTop();
            robot.writes = false;
            TableTopPlan plan = new TableTopPlan(robot);
            RunLog log = new RunLog("table_top", "", plan);
            plan.pass(0);
            log.pass();
            long before = thread.getCurrentThreadAllocatedBytes();
            for (int i = 1; i < 2000; i++) {
                robot.travelledCm = i % 300;
                robot.rangeFrontCm = i % 250;
                plan.pass(i * MILLISECOND);
                log.pass();
            }
            least = Math.min(least, thread.getCurrentThreadAllocatedBytes() - before);
        }
        return least;
    }

    private void write(String what) {
        if (writes) {
            diary.append(what).append(' ');
        }
    }

    @Override
    public boolean isBumperPressed() {
        return bumperPressed;
    }

    @Override
    public double rangeFrontCm() {
        return rangeFrontCm;
    }

    @Override
    public double driveTravelledCm() {
        return travelledCm;
    }

    @Override
    public boolean isLiftDone() {
        return liftDone;
    }

    @Override
    public MarkSees markSees() {
        return mark;
    }

    @Override
    public void clawClose() {
        write("claw:close");
    }

    @Override
    public void beltTake() {
        write("belt:take");
    }

    @Override
    public void driveForward(double powerPercent) {
        if (writes) {
            write("drive:forward:" + powerPercent);
        }
    }

    @Override
    public void liftTo(double heightTicks) {
        if (writes) {
            write("lift:to:" + heightTicks);
        }
    }

    @Override
    public void signalLight() {
        write("signal:light");
    }

    @Override
    public void driveStop() {
        write("drive:stop");
    }

    @Override
    public void liftStop() {
        write("lift:stop");
    }

    @Override
    public void beltStop() {
        write("belt:stop");
    }

    @Override
    public void clawStop() {
        write("claw:stop");
    }

    @Override
    public void signalStop() {
        write("signal:stop");
    }
}

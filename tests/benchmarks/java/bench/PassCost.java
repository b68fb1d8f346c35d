package bench;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import twelve.plans.TwelvePlan;

/**
 * What a pass of an exported plan costs beside a switch that is written by hand.
 *
 * Both play the same matches on the same pretend sensors and take turns; each number is the least
 * of its turns. Prints nanoseconds of a pass of either, moves of either, and the plan's bytes.
 */
public final class PassCost implements TwelvePlan.Parts {

    private static final int TURNS = 40;
    private static final int MATCHES = 400;
    private static final int PASSES = 1500;
    private static final long PASS = 20_000_000L;

    private final double[] travelled = new double[PASSES];
    private final double[] range = new double[PASSES];
    private final double[] heading = new double[PASSES];
    private final boolean[] yes = new boolean[PASSES];
    private int now;
    private double told;

    private PassCost() {
        long chance = 42;
        double way = 0.0;
        for (int i = 0; i < PASSES; i++) {
            chance = chance * 6364136223846793005L + 1442695040888963407L;
            int die = (int) (chance >>> 40) & 0xFFFF;
            way += die % 5 - 1.5;
            travelled[i] = way;
            range[i] = 3.0 + die % 60;
            heading[i] = die % 360 - 180;
            yes[i] = die % 40 == 0;
        }
    }

    public static void main(String[] arguments) {
        PassCost robot = new PassCost();
        ThreadMXBean thread = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long plan = Long.MAX_VALUE;
        long byHand = Long.MAX_VALUE;
        long bytes = Long.MAX_VALUE;
        long planMoves = 0;
        long handMoves = 0;
        for (int turn = 0; turn < TURNS; turn++) {
            long start = System.nanoTime();
            planMoves = 0;
            for (int match = 0; match < MATCHES; match++) {
                TwelvePlan one = new TwelvePlan(robot);
                long before = thread.getCurrentThreadAllocatedBytes();
                for (robot.now = 0; robot.now < PASSES; robot.now++) {
                    one.pass(robot.now * PASS);
                }
                bytes = Math.min(bytes, thread.getCurrentThreadAllocatedBytes() - before);
                planMoves += one.moves();
            }
            plan = Math.min(plan, System.nanoTime() - start);
            start = System.nanoTime();
            handMoves = 0;
            for (int match = 0; match < MATCHES; match++) {
                HandWritten one = new HandWritten(robot);
                thread.getCurrentThreadAllocatedBytes();
                for (robot.now = 0; robot.now < PASSES; robot.now++) {
                    one.pass(robot.now * PASS);
                }
                thread.getCurrentThreadAllocatedBytes();
                handMoves += one.moves;
            }
            byHand = Math.min(byHand, System.nanoTime() - start);
        }
        double passes = (double) MATCHES * PASSES;
        System.out.println(plan / passes + " " + byHand / passes);
        System.out.println(planMoves + " " + handMoves);
        System.out.println(bytes);
    }

    @Override
    public double driveTravelledCm() {
        return travelled[now];
    }

    @Override
    public double rangeFrontCm() {
        return range[now];
    }

    @Override
    public boolean isTrayClosed() {
        return yes[now];
    }

    @Override
    public boolean isLiftDone() {
        return yes[now];
    }

    @Override
    public double gyroDegrees() {
        return heading[now];
    }

    @Override
    public boolean isBumperPressed() {
        return yes[now];
    }

    @Override
    public boolean isGateBroken() {
        return yes[now];
    }

    @Override
    public void driveForward(double powerPercent) {
        told = powerPercent;
    }

    @Override
    public void driveTurn(double angleDegrees) {
        told = angleDegrees;
    }

    @Override
    public void liftTo(double heightTicks) {
        told = heightTicks;
    }

    @Override
    public void clawClose() {
        told = 1.0;
    }

    @Override
    public void clawOpen() {
        told = 2.0;
    }

    @Override
    public void driveStop() {
        told = 0.0;
    }

    @Override
    public void liftStop() {
        told = 0.0;
    }

    @Override
    public void clawStop() {
        told = 0.0;
    }
}

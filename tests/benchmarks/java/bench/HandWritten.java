package bench;

import twelve.plans.TwelvePlan;

/** The routine of twelve.routine as one writes it by hand: a switch, a timer, and nothing else. */
final class HandWritten {

    private static final long SECOND = 1_000_000_000L;

    private enum Step {
        START, LEAVE, SEEK, GRIP, LIFT, TURN_BACK, DRIVE_BACK, TURN_POST, NEAR_POST, RAISE, DROP,
        STAND_OFF, HOME, DONE
    }

    private final TwelvePlan.Parts robot;
    private Step step = Step.START;
    private long matchStart;
    private long stepStart;
    private long nearSince;
    private boolean near;
    private double startCm;
    int moves;

    HandWritten(TwelvePlan.Parts robot) {
        this.robot = robot;
    }

    void pass(long now) {
        if (step == Step.START) {
            matchStart = now;
            leave(now);
            return;
        }
        if (step == Step.DONE) {
            return;
        }
        if (now - matchStart >= 29 * SECOND) {
            robot.driveStop();
            go(Step.DONE, now);
            return;
        }
        long time = now - stepStart;
        switch (step) {
            case LEAVE:
                if (robot.driveTravelledCm() - startCm > 60.0 || time >= 3 * SECOND) {
                    go(Step.SEEK, now);
                    near = false;
                    robot.driveForward(25.0);
                }
                break;
            case SEEK:
                if (robot.rangeFrontCm() < 12.0) {
                    if (!near) {
                        near = true;
                        nearSince = now;
                    }
                } else {
                    near = false;
                }
                if (near && now - nearSince >= SECOND / 10 || time >= 4 * SECOND) {
                    robot.driveStop();
                    go(Step.GRIP, now);
                    robot.clawClose();
                }
                break;
            case GRIP:
                if (robot.isTrayClosed() || time >= 6 * SECOND / 10) {
                    go(Step.LIFT, now);
                    robot.liftTo(800.0);
                }
                break;
            case LIFT:
                if (robot.isLiftDone() || time >= 2 * SECOND) {
                    go(Step.TURN_BACK, now);
                    robot.driveTurn(180.0);
                }
                break;
            case TURN_BACK:
                if (Math.abs(short180(robot.gyroDegrees() - 180.0)) <= 3.0 || time >= 3 * SECOND) {
                    go(Step.DRIVE_BACK, now);
                    startCm = robot.driveTravelledCm();
                    robot.driveForward(50.0);
                }
                break;
            case DRIVE_BACK:
                if (robot.driveTravelledCm() - startCm > 80.0 || time >= 4 * SECOND) {
                    go(Step.TURN_POST, now);
                    robot.driveTurn(90.0);
                }
                break;
            case TURN_POST:
                if (Math.abs(short180(robot.gyroDegrees() - 90.0)) <= 3.0 || time >= 2 * SECOND) {
                    go(Step.NEAR_POST, now);
                    robot.driveForward(20.0);
                }
                break;
            case NEAR_POST:
                if (robot.isBumperPressed() || robot.rangeFrontCm() < 5.0 || time >= 3 * SECOND) {
                    robot.driveStop();
                    go(Step.RAISE, now);
                    robot.liftTo(1200.0);
                }
                break;
            case RAISE:
                if (robot.isLiftDone() || time >= 2 * SECOND) {
                    go(Step.DROP, now);
                    robot.clawOpen();
                }
                break;
            case DROP:
                if (robot.isGateBroken() || time >= 6 * SECOND / 10) {
                    go(Step.STAND_OFF, now);
                    startCm = robot.driveTravelledCm();
                    robot.driveForward(-30.0);
                }
                break;
            case STAND_OFF:
                if (robot.driveTravelledCm() - startCm < -20.0 || time >= 15 * SECOND / 10) {
                    robot.driveStop();
                    go(Step.HOME, now);
                    robot.liftTo(0.0);
                }
                break;
            case HOME:
                if (robot.isLiftDone() && !robot.isBumperPressed() || time >= 2 * SECOND) {
                    leave(now);
                }
                break;
            default:
                break;
        }
    }

    private void leave(long now) {
        go(Step.LEAVE, now);
        startCm = robot.driveTravelledCm();
        robot.driveForward(40.0);
    }

    private void go(Step next, long now) {
        step = next;
        stepStart = now;
        moves++;
    }

    /** The short way round. */
    private static double short180(double degrees) {
        double rest = degrees % 360.0;
        return rest > 180.0 ? rest - 360.0 : rest < -180.0 ? rest + 360.0 : rest;
    }
}

package mechanisms;

/** Percent, as the plan writes them, to what motors and servos take. */
final class Percent {

    private Percent() {
    }

    /** Motor power from -1 to 1. What is no number is no power. */
    static double power(double percent) {
        return clipped(percent / 100.0, -1.0);
    }

    /** Servo place from 0 to 1. */
    static double place(double percent) {
        return clipped(percent / 100.0, 0.0);
    }

    private static double clipped(double number, double least) {
        return Double.isNaN(number) ? 0.0 : Math.max(least, Math.min(1.0, number));
    }
}

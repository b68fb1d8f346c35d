package opmodes;

/** Readings in words, for the driver station's screen. */
final class Words {

    private static final String NOTHING = "cannot be read";

    /** A new reading gives no number, and neither does one that is written but fails now. */
    private static final String NOTHING_YET = "not written yet, or cannot be read";

    private Words() {
    }

    static String of(boolean answer, String yes, String no) {
        return answer ? yes : no;
    }

    static String of(Object answer) {
        return answer == null ? NOTHING : answer.toString();
    }

    static String of(int number) {
        return Integer.toString(number);
    }

    static String of(double number, String unit) {
        return Double.isNaN(number) ? NOTHING : Math.round(number * 10.0) / 10.0 + " " + unit;
    }

    /** A number with the range that the robot file gives it: outside, the plan does not trust it. */
    static String of(double number, String unit, double low, double high) {
        boolean trusted = Double.isNaN(number) || number >= low && number <= high;
        return of(number, unit) + (trusted ? "" : ", out of its range");
    }

    /** A number that the team's own code works out. */
    static String ofYours(double number, String unit) {
        return Double.isNaN(number) ? NOTHING_YET : of(number, unit);
    }

    static String ofYours(double number, String unit, double low, double high) {
        return Double.isNaN(number) ? NOTHING_YET : of(number, unit, low, high);
    }
}

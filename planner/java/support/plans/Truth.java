package plans;

/**
 * What a condition can be: true, false, or unknown because a reading could not be had.
 *
 * Kleene's logic of three values: "and" is the least of its parts, "or" the greatest, "not" turns
 * the sign. An exit is taken only when its condition is true, so a broken sensor never takes one:
 * the step's time limit does.
 */
public final class Truth {

    public static final int TRUE = 1;
    public static final int UNKNOWN = 0;
    public static final int FALSE = -1;

    private Truth() {
    }

    /** Whether a condition is true: unknown is not good enough. */
    public static boolean sure(int truth) {
        return truth == TRUE;
    }

    public static int is(boolean answer) {
        return answer ? TRUE : FALSE;
    }

    public static int not(int truth) {
        return -truth;
    }

    public static int and(int first, int second) {
        return Math.min(first, second);
    }

    public static int or(int first, int second) {
        return Math.max(first, second);
    }

    /** Whether a sensor that answers in words gave this answer; null is no answer. */
    public static int sees(Object answer, Object wanted) {
        return answer == null ? UNKNOWN : is(answer == wanted);
    }

    public static int below(double number, double limit) {
        return known(number, number < limit);
    }

    public static int atMost(double number, double limit) {
        return known(number, number <= limit);
    }

    public static int above(double number, double limit) {
        return known(number, number > limit);
    }

    public static int atLeast(double number, double limit) {
        return known(number, number >= limit);
    }

    /** Whether a number is at most the tolerance away from the centre. */
    public static int within(double number, double tolerance, double centre) {
        return known(number, Math.abs(number - centre) <= tolerance);
    }

    /** The same on a circle, the short way round. */
    public static int withinTurn(double number, double tolerance, double centre, double fullTurn) {
        return known(number, Math.abs(shortWay(number - centre, fullTurn)) <= tolerance);
    }

    /** A way on a circle as the short way: from minus half a turn up to half a turn. */
    public static double shortWay(double way, double fullTurn) {
        double half = fullTurn / 2.0;
        double rest = (way + half) % fullTurn;
        return (rest < 0.0 ? rest + fullTurn : rest) - half;
    }

    /** The number, or not a number where it is none that the sensor can mean. */
    public static double bounded(double number, double low, double high) {
        return number >= low && number <= high ? number : Double.NaN;
    }

    private static int known(double number, boolean answer) {
        return Double.isNaN(number) ? UNKNOWN : is(answer);
    }
}

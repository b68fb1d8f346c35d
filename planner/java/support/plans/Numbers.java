package plans;

/**
 * Questions about a sensor's number.
 *
 * A number that cannot be had is Double.NaN, "not a number". Java answers false whenever that is
 * compared with anything, and so does everything here: it is neither within nor outside.
 */
public final class Numbers {

    private Numbers() {
    }

    /** Whether a number is at most the tolerance away from the centre. */
    public static boolean within(double number, double tolerance, double centre) {
        return Math.abs(number - centre) <= tolerance;
    }

    /** Whether a number is further away than that. */
    public static boolean outside(double number, double tolerance, double centre) {
        return Math.abs(number - centre) > tolerance;
    }

    /** The same on a circle, the short way round. */
    public static boolean withinTurn(
            double number, double tolerance, double centre, double fullTurn) {
        return Math.abs(shortWay(number - centre, fullTurn)) <= tolerance;
    }

    /** Whether a number is further away than that, the short way round. */
    public static boolean outsideTurn(
            double number, double tolerance, double centre, double fullTurn) {
        return Math.abs(shortWay(number - centre, fullTurn)) > tolerance;
    }

    /** A way on a circle as the short way: from minus half a turn up to half a turn. */
    public static double shortWay(double way, double fullTurn) {
        double half = fullTurn / 2.0;
        double rest = (way + half) % fullTurn;
        return (rest < 0.0 ? rest + fullTurn : rest) - half;
    }

    /** A number in another unit: 0.55 m is 55 cm, and not a hair more by the way it is counted. */
    public static double scaled(double number, double factor) {
        return Math.rint(number * factor * 1e9) / 1e9;
    }

    /** A number to be remembered; where it cannot be had, the one that was remembered before. */
    public static double known(double number, double before) {
        return Double.isNaN(number) || Double.isInfinite(number) ? before : number;
    }

    /** The number, or Double.NaN where it lies outside of what the sensor can mean. */
    public static double trusted(double number, double low, double high) {
        return number >= low && number <= high ? number : Double.NaN;
    }
}

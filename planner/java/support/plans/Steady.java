package plans;

/**
 * A number that has to stay where it is for a while: the robot is stuck, or has settled.
 *
 * It is told in every pass. The first number is the mark; a number too far from the mark becomes
 * the new mark, and the time starts anew.
 */
public final class Steady {

    private final double tolerance;
    private final double fullTurn;
    private final long lengthNanos;
    private boolean marked;
    private double mark;
    private long sinceNanos;
    private boolean isTrue;
    private boolean isFalse;

    public Steady(double tolerance, long lengthNanos) {
        this(tolerance, Double.NaN, lengthNanos);
    }

    /** For a number on a circle, where the short way counts. */
    public Steady(double tolerance, double fullTurn, long lengthNanos) {
        this.tolerance = tolerance;
        this.fullTurn = fullTurn;
        this.lengthNanos = lengthNanos;
    }

    /** Forgets what was seen: a step that is entered starts from nothing. */
    public void restart() {
        marked = false;
        isTrue = false;
        isFalse = false;
    }

    /** Takes note of the number in this pass; where it cannot be had, the time starts anew. */
    public void update(double number, long nowNanos) {
        if (Double.isNaN(number)) {
            restart();
            return;
        }
        double way = number - mark;
        if (!Double.isNaN(fullTurn)) {
            way = Numbers.shortWay(way, fullTurn);
        }
        if (!marked || !(Math.abs(way) <= tolerance)) {
            marked = true;
            mark = number;
            sinceNanos = nowNanos;
        }
        isTrue = nowNanos - sinceNanos >= lengthNanos;
        isFalse = !isTrue;
    }

    /** Whether the number has hardly moved for long enough. */
    public boolean isTrue() {
        return isTrue;
    }

    /** Whether it surely has moved, or not stayed for long enough yet. */
    public boolean isFalse() {
        return isFalse;
    }
}

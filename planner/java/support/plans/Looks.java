package plans;

/**
 * A condition that has to be true in so many of the last looks: most of the readings decide, and a
 * single odd one does not.
 *
 * It is told in every pass, and one pass is one look. The array is a ring: the newest look takes
 * the place of the oldest.
 */
public final class Looks {

    private static final int NEITHER = 0;
    private static final int TRUE = 1;
    private static final int FALSE = 2;

    private final int least;
    private final int[] ring;
    private int next;
    private int seen;
    private int seenTrue;
    private int seenFalse;

    public Looks(int least, int looks) {
        this.least = least;
        ring = new int[looks];
    }

    /** Forgets what was seen: a step that is entered starts from nothing. */
    public void restart() {
        next = 0;
        seen = 0;
        seenTrue = 0;
        seenFalse = 0;
    }

    /** Takes note of whether the condition is true in this pass. */
    public void update(boolean conditionIsTrue) {
        update(conditionIsTrue, !conditionIsTrue);
    }

    /** The same where the plan asks isFalse too: with a broken sensor a condition is neither. */
    public void update(boolean conditionIsTrue, boolean conditionIsFalse) {
        if (seen == ring.length) {
            count(ring[next], -1);
        } else {
            seen++;
        }
        ring[next] = conditionIsTrue ? TRUE : conditionIsFalse ? FALSE : NEITHER;
        count(ring[next], 1);
        next = next + 1 == ring.length ? 0 : next + 1;
    }

    private void count(int look, int change) {
        if (look == TRUE) {
            seenTrue += change;
        } else if (look == FALSE) {
            seenFalse += change;
        }
    }

    /** Whether the condition was true in enough of the last looks. */
    public boolean isTrue() {
        return seenTrue >= least;
    }

    /** Whether it surely was not, whatever the looks that said neither would have said. */
    public boolean isFalse() {
        return seen - seenFalse < least;
    }
}

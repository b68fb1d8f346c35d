package plans;

/**
 * A condition that has to stay true for a while: one noisy reading does not pass for an answer.
 *
 * It is told in every pass. As soon as the condition is not true, the time starts anew.
 */
public final class Held {

    private final long lengthNanos;
    private boolean running;
    private long sinceNanos;
    private boolean isTrue;
    private boolean isFalse;

    public Held(long lengthNanos) {
        this.lengthNanos = lengthNanos;
    }

    /** Forgets what was seen: a step that is entered starts from nothing. */
    public void restart() {
        running = false;
        isTrue = false;
        isFalse = false;
    }

    /** Takes note of whether the condition is true in this pass. */
    public void update(boolean conditionIsTrue, long nowNanos) {
        update(conditionIsTrue, !conditionIsTrue, nowNanos);
    }

    /** The same where the plan asks isFalse too: with a broken sensor a condition is neither. */
    public void update(boolean conditionIsTrue, boolean conditionIsFalse, long nowNanos) {
        if (conditionIsTrue && !running) {
            sinceNanos = nowNanos;
        }
        running = conditionIsTrue;
        isTrue = running && nowNanos - sinceNanos >= lengthNanos;
        isFalse = running ? !isTrue : conditionIsFalse;
    }

    /** Whether the condition has been true for long enough. */
    public boolean isTrue() {
        return isTrue;
    }

    /** Whether it surely has not. */
    public boolean isFalse() {
        return isFalse;
    }
}

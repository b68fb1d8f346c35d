package plans;

/**
 * A condition that has to stay true for a while: one noisy reading does not pass for an answer.
 *
 * It is asked in every pass. As soon as the condition is false or unknown, the time starts anew.
 */
public final class Held {

    private final long lengthNanos;
    private boolean running;
    private long sinceNanos;
    private int truth = Truth.FALSE;

    public Held(long lengthNanos) {
        this.lengthNanos = lengthNanos;
    }

    /** Forgets what was seen: a step that is entered starts from nothing. */
    public void restart() {
        running = false;
        truth = Truth.FALSE;
    }

    /** Takes note of the condition in this pass; says whether it has been true for long enough. */
    public int update(int condition, long nowNanos) {
        if (condition != Truth.TRUE) {
            running = false;
            truth = condition;
            return truth;
        }
        if (!running) {
            running = true;
            sinceNanos = nowNanos;
        }
        truth = Truth.is(nowNanos - sinceNanos >= lengthNanos);
        return truth;
    }

    /** What the last update said. */
    public int truth() {
        return truth;
    }
}

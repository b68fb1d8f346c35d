package plans;

/**
 * A condition that counts from the first time it is true: a sensor that was pressed and let go.
 *
 * It is told in every pass, and forgets when its step is entered again.
 */
public final class Once {

    private boolean isTrue;
    private boolean isFalse;

    /** Forgets what was seen: a step that is entered starts from nothing. */
    public void restart() {
        isTrue = false;
        isFalse = false;
    }

    /** Takes note of whether the condition is true in this pass. */
    public void update(boolean conditionIsTrue) {
        update(conditionIsTrue, !conditionIsTrue);
    }

    /** The same where the plan asks isFalse too: with a broken sensor a condition is neither. */
    public void update(boolean conditionIsTrue, boolean conditionIsFalse) {
        isTrue = isTrue || conditionIsTrue;
        isFalse = !isTrue && conditionIsFalse;
    }

    /** Whether the condition is true or was. */
    public boolean isTrue() {
        return isTrue;
    }

    /** Whether it surely is not and was not. */
    public boolean isFalse() {
        return isFalse;
    }
}

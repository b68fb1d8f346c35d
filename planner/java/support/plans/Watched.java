package plans;

/**
 * A plan as the driver station's screen and the run log see it, between two passes.
 *
 * Whoever asks takes no reading and changes nothing.
 */
public interface Watched {

    /** The plan's name of the step that it is in. */
    String stepName();

    /** What the step waits for, in the words of the plan. */
    String waitsFor();

    /** Why the plan last moved, in words. */
    String why();

    /** How often it has moved: it enters its first step with the first move. */
    int moves();

    /** Whether everything was switched off before a finish was reached. */
    boolean wasCutOff();

    long nanosInStep();

    long nanosInMatch();

    /** What the plan can look at, then what it remembers, each with its unit. */
    String[] readings();

    /** Shows what the last pass looked at, the rest nobody has asked; and all that is remembered. */
    void show(Screen screen);

    // Lanes that run side by side. Most plans have none, and none run outside of their block.

    /** How many lanes run now. */
    default int lanes() {
        return 0;
    }

    /** The plan's name of a lane that runs now; the lanes are numbered as they stand in the plan. */
    default String laneName(int lane) {
        return "";
    }

    /** The plan's name of the step that a lane is in. */
    default String stepName(int lane) {
        return "";
    }

    /** The same step with its title. */
    default String stepInWords(int lane) {
        return "";
    }

    default String waitsFor(int lane) {
        return "";
    }

    default String why(int lane) {
        return "";
    }

    default long nanosInStep(int lane) {
        return 0;
    }

    /** All moves of the last pass; null for a plan without lanes, which makes one at most. */
    default Moves movesOfPass() {
        return null;
    }

    /** Something that readings are shown on, each with its place among all readings. */
    interface Screen {

        /** A number; Double.NaN where it cannot be had. */
        void number(int index, String name, double number, String unit);

        /** An answer in a word; null where there is none. */
        void word(int index, String name, Object word);

        /** What a counter stands at. */
        default void count(int index, String name, int number) {
            number(index, name, number, "");
        }
    }
}

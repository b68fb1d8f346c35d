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

    /** Something that readings are shown on, each with its place among all readings. */
    interface Screen {

        /** A number; Double.NaN where it cannot be had. */
        void number(int index, String name, double number, String unit);

        /** An answer in a word; null where there is none. */
        void word(int index, String name, Object word);

        /** What a counter stands at. */
        void count(int index, String name, int number);
    }
}

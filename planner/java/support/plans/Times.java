package plans;

/** Times as a plan writes them, in nanoseconds: what the controller's clock counts in. */
public final class Times {

    private Times() {
    }

    public static long seconds(long seconds) {
        return seconds * 1_000_000_000L;
    }

    public static long millis(long milliseconds) {
        return milliseconds * 1_000_000L;
    }

    public static long micros(long microseconds) {
        return microseconds * 1_000L;
    }
}

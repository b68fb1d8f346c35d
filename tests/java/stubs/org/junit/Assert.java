package org.junit;

/** What exported tests call of the real one. */
public final class Assert {

    private Assert() {
    }

    public static void fail(String message) {
        throw new AssertionError(message);
    }
}

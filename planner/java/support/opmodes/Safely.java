package opmodes;

import java.util.List;

/** Does several things each for itself: one that fails does not keep the others from being done. */
final class Safely {

    private Safely() {
    }

    /** Does them in this order, and writes down what fails. */
    static void run(List<String> troubles, Runnable... things) {
        for (Runnable thing : things) {
            try {
                thing.run();
            } catch (RuntimeException failure) {
                String trouble = inWords(failure);
                if (!troubles.contains(trouble)) {
                    troubles.add(trouble);
                }
            }
        }
    }

    /** A failure in words, with the line of the team's own code that it came through. */
    static String inWords(RuntimeException failure) {
        String own = Safely.class.getName().replace("opmodes.Safely", "");
        for (StackTraceElement line : failure.getStackTrace()) {
            if (line.getClassName().startsWith(own)) {
                return "Something failed: " + failure + ", in " + line;
            }
        }
        return "Something failed: " + failure;
    }
}

package plans;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** A pass of a plan that was played: what it was told, which steps it entered, where it then was. */
final class PlayedPass {

    final long nanos;
    final List<Told> told = new ArrayList<>();
    final List<String> entered = new ArrayList<>();
    final List<String> active = new ArrayList<>();
    boolean finished;
    boolean cutOff;

    PlayedPass(long nanos) {
        this.nanos = nanos;
    }

    /** A command that a mechanism was sent; switching it off is its command stop. */
    static final class Told {

        /** So much of a number may be lost in counting: far less than a robot can tell. */
        private static final double ROUNDING = 1e-9;

        private final String command;
        private final double[] numbers;

        Told(String command, double... numbers) {
            this.command = command;
            this.numbers = numbers;
        }

        /** Whether both are for one mechanism. */
        boolean isForTheSameAs(Told other) {
            return mechanism().equals(other.mechanism());
        }

        /** Whether it was that command, with the other's numbers if it has any. */
        boolean is(Told wanted) {
            if (!command.equals(wanted.command)) {
                return false;
            }
            for (int i = 0; i < wanted.numbers.length; i++) {
                double most = ROUNDING * Math.max(1.0, Math.abs(wanted.numbers[i]));
                if (Math.abs(numbers[i] - wanted.numbers[i]) > most) {
                    return false;
                }
            }
            return true;
        }

        private String mechanism() {
            return command.substring(0, command.indexOf(' '));
        }

        @Override
        public String toString() {
            return command + (numbers.length == 0 ? "" : " " + Arrays.toString(numbers));
        }
    }
}

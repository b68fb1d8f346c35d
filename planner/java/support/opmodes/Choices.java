package opmodes;

import java.util.Collections;
import java.util.List;

/**
 * What is chosen before the start, by gamepad: up and down pick a choice, left and right change it.
 *
 * A button counts when it goes down, however long it is held.
 */
final class Choices {

    private final Choice[] all;
    private int picked;
    private boolean wasUp;
    private boolean wasDown;
    private boolean wasLeft;
    private boolean wasRight;

    Choices(Choice... all) {
        this.all = all;
    }

    /** Takes note of the buttons; call it over and over with what they say now. */
    void press(boolean up, boolean down, boolean left, boolean right) {
        if (up && !wasUp) {
            picked = (picked + all.length - 1) % all.length;
        }
        if (down && !wasDown) {
            picked = (picked + 1) % all.length;
        }
        if (left && !wasLeft && !all[picked].fixed) {
            all[picked].change(-1);
        }
        if (right && !wasRight && !all[picked].fixed) {
            all[picked].change(1);
        }
        wasUp = up;
        wasDown = down;
        wasLeft = left;
        wasRight = right;
    }

    /** Settles a choice for good; gives what is wrong where there is none like it. */
    List<String> fix(String name, String word) {
        Choice choice = named(name);
        return troubles(choice != null && choice.set(word), name + " " + word);
    }

    /** The same for a number, in the unit of its choice. */
    List<String> fix(String name, double number) {
        Choice choice = named(name);
        return troubles(choice != null && choice.set(number), name + " " + number);
    }

    private static List<String> troubles(boolean settled, String wanted) {
        return settled
                ? Collections.<String>emptyList()
                : Collections.singletonList("This op mode is for " + wanted
                        + ", which the plan does not have any more. Delete it, or export it anew.");
    }

    /** Whether nothing is left to choose. */
    boolean areFixed() {
        for (Choice choice : all) {
            if (!choice.fixed) {
                return false;
            }
        }
        return true;
    }

    private Choice named(String name) {
        for (Choice choice : all) {
            if (choice.name.equals(name)) {
                return choice;
            }
        }
        return null;
    }

    int count() {
        return all.length;
    }

    /** The name of a choice, with an arrow in front of the one that left and right change. */
    String caption(int index) {
        return (index == picked && !all[index].fixed ? "> " : "") + all[index].name;
    }

    /** What is chosen there. */
    String words(int index) {
        return all[index].words();
    }

    /** All that is chosen, in one line. */
    String inWords() {
        StringBuilder line = new StringBuilder();
        for (Choice choice : all) {
            line.append(line.length() == 0 ? "" : ", ");
            line.append(choice.name).append(' ').append(choice.words());
        }
        return line.toString();
    }

    /** Something that is chosen. */
    abstract static class Choice {

        final String name;
        /** Whether it is settled, whatever a gamepad says. */
        boolean fixed;

        Choice(String name) {
            this.name = name;
        }

        /** One value further, or one back. */
        abstract void change(int direction);

        abstract String words();

        /** Settles it; false, and nothing is changed, where it cannot be that. */
        boolean set(String word) {
            return false;
        }

        /** The same for a number. */
        boolean set(double number) {
            return false;
        }
    }

    /** One of several words; behind the last comes the first again. */
    static final class Word<T> extends Choice {

        private final T[] values;
        private int at;

        Word(String name, T[] values) {
            super(name);
            this.values = values;
        }

        T value() {
            return values[at];
        }

        @Override
        void change(int direction) {
            at = (at + values.length + direction) % values.length;
        }

        @Override
        String words() {
            return values[at].toString();
        }

        @Override
        boolean set(String word) {
            for (int i = 0; i < values.length; i++) {
                if (values[i].toString().equals(word)) {
                    at = i;
                    fixed = true;
                    return true;
                }
            }
            return false;
        }
    }

    /** A number between two, in steps; it stops at either end. */
    static final class Range extends Choice {

        /** So much of a step may be lost in counting. */
        private static final double ROUNDING = 1e-6;

        private final String unit;
        private final double low;
        private final double high;
        private final double step;
        private double value;

        Range(String name, String unit, double low, double high, double step, double normal) {
            super(name);
            this.unit = unit;
            this.low = low;
            this.high = high;
            this.step = step;
            value = normal;
        }

        double value() {
            return value;
        }

        /** A time, given how many nanoseconds its unit has. */
        long nanos(double nanosOfUnit) {
            return Math.round(value * nanosOfUnit);
        }

        @Override
        void change(int direction) {
            double steps = value / step;
            double next = direction > 0
                    ? Math.floor(steps + ROUNDING) + 1.0
                    : Math.ceil(steps - ROUNDING) - 1.0;
            value = Math.max(low, Math.min(high, next * step));
        }

        @Override
        boolean set(double number) {
            if (number < low || number > high) {
                return false;
            }
            value = number;
            fixed = true;
            return true;
        }

        @Override
        String words() {
            return Math.round(value * 1000.0) / 1000.0 + " " + unit;
        }
    }
}

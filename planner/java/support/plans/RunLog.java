package plans;

import java.io.IOException;

/**
 * What a plan did in a run, as a table of comma-separated values: one line a move and one a second.
 * While lanes run side by side, each has a line of its own.
 *
 * The lines are kept in memory, which is there before the start, and handed on when the run is
 * over: writing a file in a pass would make the pass wait. The README of planner says what the
 * columns are.
 */
public final class RunLog implements Watched.Screen {

    private static final int VERSION = 2;
    /** Letters: room for some hundred moves. What no longer fits is not written. */
    private static final int ROOM = 1 << 16;
    private static final int LONGEST_LINE = 1 << 11;
    private static final long SECOND = 1_000_000_000L;
    private static final long MILLISECOND = 1_000_000L;

    /** Where the lines go in the end. */
    public interface Sink {
        void write(CharSequence lines) throws IOException;
    }

    private final StringBuilder lines = new StringBuilder(ROOM);
    private final Watched plan;
    private final boolean[] asked;
    private final double[] numbers;
    private final Object[] words;
    private final int[] counts;
    private final boolean[] counted;
    private int moves;
    private long nextSecond = SECOND;
    private boolean ended;

    public RunLog(String routine, String chosen, Watched plan) {
        this.plan = plan;
        String[] readings = plan.readings();
        asked = new boolean[readings.length];
        numbers = new double[readings.length];
        words = new Object[readings.length];
        counts = new int[readings.length];
        counted = new boolean[readings.length];
        lines.append("run log,").append(VERSION).append(',').append(routine).append(',');
        quoted(chosen);
        lines.append("\nmatch_ms,event,lane,step,step_ms,why");
        for (String reading : readings) {
            lines.append(',');
            quoted(reading);
        }
        lines.append('\n');
    }

    /** After each pass: a line where the plan has moved or a second has gone by. */
    public void pass() {
        boolean moved = plan.moves() != moves;
        boolean second = plan.nanosInMatch() >= nextSecond;
        if (moved) {
            moves = plan.moves();
            moves();
        } else if (second && !ended) {
            where("second");
        }
        while (plan.nanosInMatch() >= nextSecond) {
            nextSecond += SECOND;
        }
        if (plan.wasCutOff() && !ended) {
            ended = true;
            where("cut off");
        }
    }

    /** The moves of the last pass: of lanes that run side by side each can make one. */
    private void moves() {
        Moves all = plan.movesOfPass();
        if (all == null) {
            line("move", "", plan.stepName(), plan.nanosInStep(), plan.why());
            return;
        }
        for (int i = 0; i < all.count(); i++) {
            line("move", all.lane(i), all.step(i), 0, all.why(i));
        }
    }

    /** Where the plan is, and each lane that runs. */
    private void where(String event) {
        line(event, "", plan.stepName(), plan.nanosInStep(), "");
        for (int i = 0; i < plan.lanes(); i++) {
            line(event, plan.laneName(i), plan.stepName(i), plan.nanosInStep(i), "");
        }
    }

    /** Hands all lines on; of a plan that was never started there are none. */
    public void write(Sink sink) throws IOException {
        if (plan.moves() > 0) {
            pass();
            sink.write(lines);
        }
    }

    private void line(String event, String lane, String step, long nanosInStep, String why) {
        if (lines.length() + LONGEST_LINE > ROOM) {
            return;
        }
        for (int i = 0; i < asked.length; i++) {
            asked[i] = false;
        }
        plan.show(this);
        lines.append(plan.nanosInMatch() / MILLISECOND).append(',').append(event).append(',');
        lines.append(lane).append(',').append(step).append(',').append(nanosInStep / MILLISECOND);
        lines.append(',');
        quoted(why);
        for (int i = 0; i < asked.length; i++) {
            lines.append(',');
            if (asked[i]) {
                value(i);
            }
        }
        lines.append('\n');
    }

    private void value(int index) {
        if (counted[index]) {
            lines.append(counts[index]);
        } else if (words[index] != null) {
            lines.append(words[index].toString());
        } else if (Double.isNaN(numbers[index])) {
            lines.append("unreadable");
        } else {
            thousandths(Math.round(numbers[index] * 1000.0));
        }
    }

    /** A number with three decimals, made of whole numbers: that takes no new memory. */
    private void thousandths(long number) {
        if (number < 0) {
            lines.append('-');
        }
        long size = Math.abs(number);
        lines.append(size / 1000).append('.');
        lines.append(size / 100 % 10).append(size / 10 % 10).append(size % 10);
    }

    private void quoted(String text) {
        lines.append('"');
        for (int i = 0; i < text.length(); i++) {
            char letter = text.charAt(i);
            if (letter == '"') {
                lines.append('"');
            }
            lines.append(letter);
        }
        lines.append('"');
    }

    @Override
    public void number(int index, String name, double number, String unit) {
        asked[index] = true;
        numbers[index] = number;
        words[index] = null;
    }

    @Override
    public void word(int index, String name, Object word) {
        asked[index] = true;
        numbers[index] = Double.NaN;
        words[index] = word;
    }

    @Override
    public void count(int index, String name, int number) {
        asked[index] = true;
        counted[index] = true;
        counts[index] = number;
    }
}

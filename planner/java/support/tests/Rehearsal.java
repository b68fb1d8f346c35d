package plans;

import static org.junit.Assert.fail;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import plans.PlayedPass.Told;

/**
 * Plays a plan on pretend sensors, one pass after the other, as a scenario says.
 *
 * At first every touch sensor is released, every switch open and every beam clear, no mechanism is
 * done, cameras and colour sensors are unsure, and no number can be had; readings from the step's
 * start begin at 0. A mechanism that is told something is not done any more. While lanes run, a reading
 * from the step's start is as a step of one lane sees it, and goes on when another lane moves.
 */
public abstract class Rehearsal {

    private static final double NANOS_IN_A_SECOND = 1e9;

    private final List<Fact> facts = new ArrayList<>();
    private final List<Due> toCome = new ArrayList<>();
    private final List<Number> countedFromStepStart = new ArrayList<>();
    private final List<String> entered = new ArrayList<>();
    private final List<String> names = new ArrayList<>();
    private final List<Told> given = new ArrayList<>();
    private final List<PlayedPass> run = new ArrayList<>();
    /** By lane, under no name outside of lanes, the step that it is in. */
    private final Map<String, String> active = new HashMap<>();
    private PlayedPass thisPass;
    /** By lane, under no name outside of lanes, the steps around the present one that do a task. */
    private final Map<String, List<String>> around = new HashMap<>();
    private long endedNanos;

    // The plan.

    protected abstract void pass(long nowNanos);

    /** The plan's name of the step that it is in. */
    protected abstract String step();

    /** Whether the pass that was just made entered its step. */
    protected abstract boolean hasJustEntered();

    /** All moves of the pass; null for a plan without lanes. */
    protected Moves movesOfPass() {
        return null;
    }

    protected abstract boolean isFinished();

    protected abstract boolean isOff();

    protected abstract boolean wasCutOff();

    /** Takes note of what the plan tells a mechanism, and with which numbers. */
    protected void gave(String command, double... numbers) {
        given.add(new Told(command, numbers));
        thisPass.told.add(new Told(command, numbers));
    }

    /** Takes note of a mechanism that is switched off. */
    protected void switchedOff(String mechanism) {
        thisPass.told.add(new Told(mechanism + " stop"));
    }

    // What the sensors do.

    /** What a pretend sensor says: a word, or whether something is so. */
    public static final class Says<T> {

        private T now;

        public Says(T atFirst) {
            now = atFirst;
        }

        public T now() {
            return now;
        }

        public void set(T value) {
            now = value;
        }
    }

    /** The number that a pretend sensor gives. */
    public static final class Number {

        private double seen = Double.NaN;
        private double before;
        private boolean fromStepStart;
        /** The lane as whose step sees it the number is given; empty where that is any. */
        private String viewer = "";
        /** By block, the first of its lanes that looks at it. */
        private final Map<String, String> firstToLook = new HashMap<>();
        /** By lane, what it had counted to when the lane's step was entered. */
        private final Map<String, Double> begun = new HashMap<>();

        /** What it gives: from step to step it counts on. */
        public double now() {
            return before + seen;
        }

        private void give(String lane, double number) {
            if (fromStepStart && !lane.isEmpty()) {
                viewer = lane;
                if (begun.containsKey(lane)) {
                    before = begun.get(lane).doubleValue();
                }
            }
            seen = number;
        }

        /** On entry to a step it starts again, as far as the step is of the lane that sees it. */
        private void enter(String lane, String step) {
            if (lane.isEmpty()) {
                viewer = firstToLook.containsKey(step) ? firstToLook.get(step) : "";
                begun.clear();
            }
            if (Double.isNaN(seen)) {
                return;
            }
            if (!lane.isEmpty()) {
                begun.put(lane, Double.valueOf(now()));
            }
            if (lane.isEmpty() || viewer.isEmpty() || viewer.equals(lane)) {
                before += seen;
                seen = 0.0;
            }
        }
    }

    /** A number that the plan looks at from the start of its steps. */
    protected Number fromStepStart() {
        Number number = new Number();
        number.seen = 0.0;
        number.fromStepStart = true;
        countedFromStepStart.add(number);
        return number;
    }

    /** Says which lane of a block is the first to look at a number from the start of its steps. */
    protected static void looksFirst(String block, String lane, Number number) {
        number.firstToLook.put(block, lane);
    }

    /** From that moment on the match clock on. */
    public When at(long nanos) {
        return new When("", nanos, nanos);
    }

    /** From one moment on the match clock to another. */
    public When between(long startNanos, long endNanos) {
        return new When("", startNanos, endNanos);
    }

    /** So long after each entry to a step. */
    public When in(String step, long nanos) {
        return new When(step, nanos, nanos);
    }

    /** From one moment after each entry to a step to another. */
    public When in(String step, long startNanos, long endNanos) {
        return new When(step, startNanos, endNanos);
    }

    /** A moment, or the time between two: what is the case then. */
    public final class When {

        private final String step;
        private final long start;
        private final long end;

        When(String step, long start, long end) {
            this.step = step;
            this.start = start;
            this.end = end;
        }

        public <T> void says(final Says<T> sensor, final T value) {
            add(new Fact(step, start, end) {
                @Override
                void apply(String lane, long clock) {
                    sensor.now = value;
                }
            });
        }

        public void gives(Number sensor, double value) {
            goes(sensor, value, value);
        }

        public void cannotGive(Number sensor) {
            goes(sensor, Double.NaN, Double.NaN);
        }

        /** Evenly from one number to another. */
        public void goes(final Number sensor, final double from, final double to) {
            add(new Fact(step, start, end) {
                @Override
                void apply(String lane, long clock) {
                    long way = Math.min(clock, end) - start;
                    sensor.give(lane, end == start ? to : from + (to - from) * way / (end - start));
                }
            });
        }

        private void add(Fact fact) {
            facts.add(fact);
            if (step.isEmpty()) {
                toCome.add(new Due("", 0, fact));
            }
        }
    }

    /** Something that a sensor does at its time. */
    private abstract static class Fact {

        final String step;
        final long start;
        final long end;

        Fact(String step, long start, long end) {
            this.step = step;
            this.start = start;
            this.end = end;
        }

        abstract void apply(String lane, long clock);
    }

    /** A fact, the lane in which its step was entered, and when its clock began. */
    private static final class Due {

        final String lane;
        final long base;
        final Fact fact;

        Due(String lane, long base, Fact fact) {
            this.lane = lane;
            this.base = base;
            this.fact = fact;
        }
    }

    // The run.

    /** Plays the plan until it finishes or its limit cuts it off. */
    public void play(long passNanos) {
        for (long now = 0; !isFinished() && !isOff(); now += passNanos) {
            apply(now);
            thisPass = new PlayedPass(now);
            pass(now);
            if (!isOff()) {
                follow(now);
            }
            thisPass.active.addAll(active.values());
            thisPass.finished = isFinished();
            thisPass.cutOff = wasCutOff();
            run.add(thisPass);
            endedNanos = now;
        }
    }

    private void apply(final long now) {
        List<Due> inOrder = new ArrayList<>(toCome);
        Collections.sort(inOrder, new Comparator<Due>() {
            @Override
            public int compare(Due one, Due other) {
                return Long.compare(one.base + one.fact.start, other.base + other.fact.start);
            }
        });
        toCome.clear();
        for (Due due : inOrder) {
            long clock = now - due.base;
            if (clock >= due.fact.start) {
                due.fact.apply(due.lane, clock);
            }
            if (clock < due.fact.start || clock < due.fact.end) {
                toCome.add(due);
            }
        }
    }

    private void follow(long now) {
        Moves moves = movesOfPass();
        if (moves == null) {
            if (hasJustEntered()) {
                follow("", step(), now);
            }
            return;
        }
        for (int i = 0; i < moves.count(); i++) {
            follow(moves.lane(i), moves.step(i), now);
        }
    }

    /** A step that is entered brings its own facts, and those of the step that was left are over. */
    private void follow(String lane, String step, long now) {
        if (lane.isEmpty()) {
            active.clear();
        }
        // The end of a lane has no name of its own: lanes of two blocks may be called alike.
        String whole = step.contains(" ") ? active.get("") + " " + lane + " done" : step;
        active.put(lane, whole);
        thisPass.entered.add(whole);
        List<String> path = Arrays.asList(step.split("\\."));
        List<String> outer = path.subList(0, path.size() - 1);
        if (lane.isEmpty()) {
            // Whatever is entered outside of lanes, no lane of before runs any more.
            around.keySet().retainAll(Collections.singleton(""));
        }
        List<String> fresh = new ArrayList<>(outer);
        fresh.removeAll(around(""));
        fresh.removeAll(around(lane));
        fresh.add(path.get(path.size() - 1));
        List<String> stay = new ArrayList<>(outer);
        stay.retainAll(around(lane));
        for (Iterator<Due> dues = toCome.iterator(); dues.hasNext();) {
            Due due = dues.next();
            boolean ofOtherLane = !lane.isEmpty() && !due.lane.equals(lane);
            if (!due.fact.step.isEmpty() && !stay.contains(due.fact.step) && !ofOtherLane) {
                dues.remove();
            }
        }
        for (Fact fact : facts) {
            if (fresh.contains(fact.step)) {
                toCome.add(new Due(lane, now, fact));
            }
        }
        around.put(lane, outer);
        for (Number number : countedFromStepStart) {
            number.enter(lane, step);
        }
        // The end of a lane is no step of the plan.
        if (!step.contains(" ")) {
            entered.add(step);
            names.addAll(fresh);
        }
    }

    private List<String> around(String lane) {
        return around.containsKey(lane) ? around.get(lane) : Collections.<String>emptyList();
    }

    // What must be seen.

    /** The steps were entered in this order, others perhaps in between. */
    public void mustVisit(String... steps) {
        int found = 0;
        for (String name : names) {
            if (found < steps.length && steps[found].equals(name)) {
                found++;
            }
        }
        if (found < steps.length) {
            fail(steps[found] + " was not entered in its turn; the way was " + entered);
        }
    }

    /** The run ended in some finish. */
    public void mustFinish() {
        mustFinish(Long.MAX_VALUE);
    }

    /** The run ended in some finish, by that time on the match clock. */
    public void mustFinish(long byNanos) {
        if (wasCutOff()) {
            fail("the run was cut off in " + step() + " at " + ended());
        }
        mustFinish(step(), byNanos);
    }

    /** The run ended in that finish. */
    public void mustFinish(String finish) {
        mustFinish(finish, Long.MAX_VALUE);
    }

    /** The run ended in that finish, by that time on the match clock. */
    public void mustFinish(String finish, long byNanos) {
        if (wasCutOff() || !step().equals(finish)) {
            fail("the run ended in " + step() + " at " + ended() + ", not in " + finish);
        }
        if (endedNanos > byNanos) {
            fail(finish + " was reached only at " + ended());
        }
    }

    /** The routine's limit ended the run outside of a finish. */
    public void mustBeCutOff() {
        if (!wasCutOff()) {
            fail("the run finished in " + step() + " at " + ended());
        }
    }

    /** A command was sent at some time, with these numbers if there are any. */
    public void mustGive(String command, double... numbers) {
        if (!wasGiven(command, numbers)) {
            Told wanted = new Told(command, numbers);
            fail(wanted + " was never given, only " + given + "; the way was " + entered);
        }
    }

    /** A command was never sent, with these numbers if there are any. */
    public void mustNotGive(String command, double... numbers) {
        if (wasGiven(command, numbers)) {
            fail(new Told(command, numbers) + " was given; the way was " + entered);
        }
    }

    /** What every run must keep to. */
    public void mustKeepTo(Requirement requirement) {
        String broken = requirement.broken(run);
        if (!broken.isEmpty()) {
            fail(broken + "; the way was " + entered);
        }
    }

    private boolean wasGiven(String command, double[] numbers) {
        Told wanted = new Told(command, numbers);
        for (Told one : given) {
            if (one.is(wanted)) {
                return true;
            }
        }
        return false;
    }

    private String ended() {
        return endedNanos / NANOS_IN_A_SECOND + " s";
    }
}

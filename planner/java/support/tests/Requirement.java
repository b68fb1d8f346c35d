package plans;

import java.util.Arrays;
import java.util.List;
import plans.PlayedPass.Told;

/** What every run of a plan must keep to, judged at the end of each pass. */
public abstract class Requirement {

    private static final double NANOS_IN_A_SECOND = 1e9;
    private static final long NOT_AWAITED = -1;

    private Requirement() {
    }

    /** What was seen instead in a run that broke it; empty where none did. */
    abstract String broken(List<PlayedPass> run);

    /** A finish is entered by that time on the match clock. */
    public static Requirement finishedBy(final long byNanos) {
        return new Requirement() {
            @Override
            String broken(List<PlayedPass> run) {
                PlayedPass last = run.get(run.size() - 1);
                boolean inTime = last.finished && !last.cutOff && last.nanos <= byNanos;
                return inTime ? "" : "no finish by " + seconds(byNanos);
            }
        };
    }

    /** The two are never on at once. */
    public static Requirement never(final Happening one, final Happening other) {
        return new Requirement() {
            @Override
            String broken(List<PlayedPass> run) {
                for (PlayedPass pass : run) {
                    one.follow(pass);
                    other.follow(pass);
                    if (one.isOn && other.isOn) {
                        return one + " and " + other + " were both on at " + seconds(pass.nanos);
                    }
                }
                return "";
            }
        };
    }

    /** One comes only when the other was on in an earlier pass. */
    public static Requirement onlyAfter(final Happening later, final Happening earlier) {
        return new Requirement() {
            @Override
            String broken(List<PlayedPass> run) {
                boolean came = false;
                for (PlayedPass pass : run) {
                    later.follow(pass);
                    earlier.follow(pass);
                    if (later.comes && !came) {
                        return later + " came at " + seconds(pass.nanos) + ", and no " + earlier
                                + " before it";
                    }
                    came |= earlier.isOn;
                }
                return "";
            }
        };
    }

    /** Each time one comes, the other is on in that pass or one at most so much later. */
    public static Requirement leadsTo(
            final Happening cause, final Happening effect, final long withinNanos) {
        return new Requirement() {
            @Override
            String broken(List<PlayedPass> run) {
                long since = NOT_AWAITED;
                for (PlayedPass pass : run) {
                    if (since != NOT_AWAITED && pass.nanos - since > withinNanos) {
                        return missed(since);
                    }
                    cause.follow(pass);
                    effect.follow(pass);
                    if (since == NOT_AWAITED && cause.comes) {
                        since = pass.nanos;
                    }
                    if (effect.isOn) {
                        since = NOT_AWAITED;
                    }
                }
                // After the end nothing comes any more.
                return since == NOT_AWAITED ? "" : missed(since);
            }

            private String missed(long since) {
                return cause + " came at " + seconds(since) + ", and no " + effect + " in time";
            }
        };
    }

    /** A mechanism is sent a command, with these numbers if there are any, and follows it. */
    public static Happening told(String command, double... numbers) {
        final Told wanted = new Told(command, numbers);
        return new Happening(wanted.toString()) {
            @Override
            void follow(PlayedPass pass) {
                comes = false;
                for (Told told : pass.told) {
                    if (told.isForTheSameAs(wanted)) {
                        isOn = told.is(wanted);
                        comes = isOn;
                    }
                }
            }
        };
    }

    /** A step is entered, one of these, and is active until it is left. */
    public static Happening in(String... steps) {
        final List<String> wanted = Arrays.asList(steps);
        return new Happening("in " + String.join(", ", wanted)) {
            @Override
            void follow(PlayedPass pass) {
                isOn = isAmong(wanted, pass.active);
                comes = isAmong(wanted, pass.entered);
            }
        };
    }

    /** A group of these steps is entered, and is active until it is left. */
    public static Happening inGroup(String... steps) {
        final List<String> wanted = Arrays.asList(steps);
        return new Happening("in one of " + String.join(", ", wanted)) {
            @Override
            void follow(PlayedPass pass) {
                boolean wasOn = isOn;
                isOn = isAmong(wanted, pass.active);
                comes = isOn && !wasOn;
            }
        };
    }

    private static boolean isAmong(List<String> wanted, List<String> steps) {
        for (String step : steps) {
            if (wanted.contains(step)) {
                return true;
            }
        }
        return false;
    }

    private static String seconds(long nanos) {
        return nanos / NANOS_IN_A_SECOND + " s";
    }

    /** Something that comes in a pass, and is on until it ends. */
    public abstract static class Happening {

        boolean comes;
        boolean isOn;
        private final String words;

        private Happening(String words) {
            this.words = words;
        }

        /** Takes in the next pass. */
        abstract void follow(PlayedPass pass);

        @Override
        public String toString() {
            return words;
        }
    }
}

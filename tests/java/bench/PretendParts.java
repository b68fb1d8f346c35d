package bench;

import java.lang.reflect.Constructor;
import java.lang.reflect.InvocationHandler;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.lang.reflect.Proxy;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** A plan on pretend parts: says which step a pass entered and what it told the mechanisms. */
final class PretendParts implements Bench.Player, InvocationHandler {

    private final Object plan;
    private final Values values = new Values();
    private final List<String> told = new ArrayList<>();
    private final Set<String> asked = new HashSet<>();
    private Map<String, String> remembered = new LinkedHashMap<>();
    private boolean wasOff;

    PretendParts(String[] words) throws ReflectiveOperationException {
        Class<?> type = Class.forName(words[0]);
        Class<?> parts = Class.forName(words[0] + "$Parts");
        Object pretend = Proxy.newProxyInstance(parts.getClassLoader(), new Class<?>[] {parts}, this);
        plan = made(type, pretend, words);
        remembered = remembered();
    }

    /** A plan for what the words behind its name choose; without any, for what is normal. */
    private static Object made(Class<?> type, Object pretend, String[] words)
            throws ReflectiveOperationException {
        for (Constructor<?> constructor : type.getConstructors()) {
            Class<?>[] types = constructor.getParameterTypes();
            if (types.length == words.length) {
                Object[] arguments = new Object[words.length];
                arguments[0] = pretend;
                for (int i = 1; i < words.length; i++) {
                    arguments[i] = Values.parsed(types[i], words[i]);
                }
                return constructor.newInstance(arguments);
            }
        }
        throw new IllegalArgumentException(type + " is not made with " + (words.length - 1));
    }

    @Override
    public Object invoke(Object proxy, Method method, Object[] arguments) {
        if (method.getReturnType() == void.class) {
            told.add(method.getName() + "(" + Words.joined(arguments) + ")");
        } else if (!asked.add(method.getName())) {
            told.add("asked " + method.getName() + " twice");
        }
        return values.get(method.getName(), method.getReturnType());
    }

    @Override
    public String play(String[] words) throws ReflectiveOperationException {
        told.clear();
        asked.clear();
        boolean pass = words[0].equals("pass");
        try {
            if (words[0].equals("look")) {
                values.set(words, 1);
                call("lookBeforeStart");
            } else if (pass) {
                values.set(words, 2);
                plan.getClass().getMethod("pass", long.class).invoke(plan, Long.valueOf(words[1]));
            } else {
                plan.getClass().getMethod("stopEverything").invoke(plan);
            }
        } catch (InvocationTargetException failure) {
            // So a plan that is turned round may well do.
            return "threw " + failure.getCause();
        }
        boolean off = is("isOff");
        boolean entered = pass && !off && entered();
        if (off && !wasOff) {
            told.add(is("wasCutOff") ? "cut off" : "off");
        } else if (entered && is("isFinished")) {
            told.add("finished");
        }
        wasOff = off;
        Map<String, String> before = remembered;
        remembered = remembered();
        for (Map.Entry<String, String> one : remembered.entrySet()) {
            if (!one.getValue().equals(before.get(one.getKey()))) {
                told.add(one.getKey() + "=" + one.getValue());
            }
        }
        return told.isEmpty() ? "-" : String.join(" ", told);
    }

    /** What the plan remembers and counts, as it shows it. */
    private Map<String, String> remembered() throws ReflectiveOperationException {
        Map<String, String> found = new LinkedHashMap<>();
        for (Method method : plan.getClass().getMethods()) {
            if (method.getName().equals("show")) {
                Class<?> screen = method.getParameterTypes()[0];
                Class<?>[] types = {screen};
                method.invoke(plan, Proxy.newProxyInstance(screen.getClassLoader(), types,
                        (proxy, shown, arguments) -> {
                            String name = (String) arguments[1];
                            if (name.startsWith("memory ") || name.startsWith("counter ")) {
                                String held = arguments[2].toString();
                                // Nothing has no sign.
                                found.put(name.substring(name.indexOf(' ') + 1),
                                        held.equals("-0.0") ? "0.0" : held);
                            }
                            return null;
                        }));
            }
        }
        return found;
    }

    /** Whether the pass has entered a step outside of lanes; tells that, and what lanes entered. */
    private boolean entered() throws ReflectiveOperationException {
        Object moves = call("movesOfPass");
        if (moves == null) {
            boolean entered = ((Double) call("secondsInStep")).doubleValue() == 0.0;
            if (entered) {
                told.add(0, ((Enum<?>) call("step")).name());
            }
            return entered;
        }
        boolean entered = false;
        int count = ((Integer) moves.getClass().getMethod("count").invoke(moves)).intValue();
        for (int i = 0; i < count; i++) {
            String lane = part(moves, "lane", i);
            String step = constant(part(moves, "step", i));
            told.add(i, lane.isEmpty() ? step : lane + ":" + step);
            entered |= lane.isEmpty();
        }
        return entered;
    }

    private static String part(Object moves, String method, int move)
            throws ReflectiveOperationException {
        Method of = moves.getClass().getMethod(method, int.class);
        return (String) of.invoke(moves, Integer.valueOf(move));
    }

    /** The constant of a step; "done" for the end of a lane. */
    private String constant(String step) throws ReflectiveOperationException {
        Class<?> steps = plan.getClass().getMethod("step").getReturnType();
        for (Object constant : steps.getEnumConstants()) {
            if (constant.toString().equals(step)) {
                return step.contains(" ") ? "done" : ((Enum<?>) constant).name();
            }
        }
        throw new IllegalStateException(step + " is no step of the plan");
    }

    private boolean is(String method) throws ReflectiveOperationException {
        return ((Boolean) call(method)).booleanValue();
    }

    private Object call(String method) throws ReflectiveOperationException {
        return plan.getClass().getMethod(method).invoke(plan);
    }
}

package bench;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** What pretend sensors say, by name, as text until somebody asks. */
final class Values {

    private final Map<String, String> texts = new HashMap<>();

    void set(String[] words, int from) {
        for (int i = from; i < words.length; i++) {
            int equals = words[i].indexOf('=');
            texts.put(words[i].substring(0, equals), words[i].substring(equals + 1));
        }
    }

    /** A list of names, with commas between them; empty where nothing was set. */
    List<String> list(String name) {
        return Arrays.asList(texts.getOrDefault(name, "").split(","));
    }

    Object get(String name, Class<?> type) {
        String text = texts.get(name);
        if (type == void.class) {
            return null;
        }
        if (type == boolean.class) {
            return Boolean.valueOf("true".equals(text));
        }
        if (type == double.class) {
            return Double.valueOf(text == null ? "NaN" : text);
        }
        if (type == int.class) {
            return Integer.valueOf(text == null ? "0" : text);
        }
        return text == null || text.equals("null") ? null : constant(type, text);
    }

    /** What something is made with. */
    static Object parsed(Class<?> type, String text) {
        if (type == long.class) {
            return Long.valueOf(text);
        }
        return type == double.class ? Double.valueOf(text) : constant(type, text);
    }

    private static Object constant(Class<?> type, String name) {
        if (type.isEnum()) {
            for (Object constant : type.getEnumConstants()) {
                if (((Enum<?>) constant).name().equals(name)) {
                    return constant;
                }
            }
        }
        throw new IllegalArgumentException(name + " is no " + type);
    }
}

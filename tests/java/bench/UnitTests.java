package bench;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.util.ArrayList;
import java.util.List;
import org.junit.Test;

/** Runs test classes as JUnit does: each test on an object of its own. Says how each test went. */
public final class UnitTests {

    private UnitTests() {
    }

    public static void main(String[] classes) throws ReflectiveOperationException {
        for (String name : classes) {
            Class<?> type = Class.forName(name);
            List<String> lines = new ArrayList<>();
            for (Method method : type.getMethods()) {
                if (method.isAnnotationPresent(Test.class)) {
                    lines.add(name + " " + method.getName() + " " + went(type, method));
                }
            }
            lines.sort(null);
            for (String line : lines) {
                System.out.println(line);
            }
        }
    }

    private static String went(Class<?> type, Method method) throws ReflectiveOperationException {
        try {
            method.invoke(type.getConstructor().newInstance());
            return "passed";
        } catch (InvocationTargetException failure) {
            return "failed: " + failure.getCause().getMessage();
        }
    }
}

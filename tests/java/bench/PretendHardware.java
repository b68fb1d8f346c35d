package bench;

import com.qualcomm.hardware.lynx.LynxModule;
import com.qualcomm.robotcore.eventloop.opmode.OpMode;
import com.qualcomm.robotcore.hardware.Gamepad;
import com.qualcomm.robotcore.hardware.HardwareDevice;
import com.qualcomm.robotcore.hardware.HardwareMap;
import com.qualcomm.robotcore.hardware.LED;
import com.qualcomm.robotcore.hardware.NormalizedRGBA;
import java.lang.reflect.Field;
import java.lang.reflect.InvocationHandler;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.lang.reflect.Proxy;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Set;
import org.firstinspires.ftc.robotcore.external.Telemetry;
import org.firstinspires.ftc.robotcore.external.navigation.AngleUnit;
import org.firstinspires.ftc.robotcore.external.navigation.YawPitchRollAngles;

/** An op mode on pretend hardware: says what a call told each device, and what the screen showed. */
final class PretendHardware extends HardwareMap implements Bench.Player {

    private final OpMode opMode;
    private final Values values = new Values();
    private final List<String> log = new ArrayList<>();

    PretendHardware(String className) throws ReflectiveOperationException {
        opMode = (OpMode) Class.forName(className).getConstructor().newInstance();
        opMode.hardwareMap = this;
        opMode.gamepad1 = new Gamepad();
        opMode.telemetry = (Telemetry) proxy(Telemetry.class, this::screen);
    }

    @Override
    public String play(String[] words) throws ReflectiveOperationException {
        log.clear();
        values.set(words, 2);
        press(opMode.gamepad1);
        try {
            opMode.getClass().getMethod(words[1]).invoke(opMode);
        } catch (InvocationTargetException failure) {
            log.add("failed: " + failure.getCause().getMessage());
        }
        return log.isEmpty() ? "-" : String.join(" | ", log);
    }

    /** Holds down the buttons that are said to be held: "gamepad1.a=true". */
    private void press(Gamepad pad) throws IllegalAccessException {
        for (Field button : Gamepad.class.getFields()) {
            if (button.getType() == boolean.class) {
                button.set(pad, values.get("gamepad1." + button.getName(), boolean.class));
            }
        }
    }

    @Override
    public <T> T get(Class<? extends T> type, String name) {
        log.add("get " + name + " as " + type.getSimpleName());
        Object device = type == LED.class ? new Lamp(name) : proxy(type, (proxy, method, arguments)
                -> device(name, method, arguments));
        return type.cast(device);
    }

    /** "missing=NAME,NAME" are not there, "other=NAME,NAME" are devices of another kind. */
    @Override
    public <T> T tryGet(Class<? extends T> type, String name) {
        boolean other = values.list("other").contains(name);
        if (values.list("missing").contains(name) || other && type != HardwareDevice.class) {
            return null;
        }
        return type.cast(type == LED.class ? new Lamp(name) : proxy(type, (proxy, method, arguments)
                -> null));
    }

    @Override
    public <T> List<T> getAll(Class<? extends T> type) {
        if (type != HardwareDevice.class) {
            return Collections.singletonList(type.cast(new Hub()));
        }
        List<T> devices = new ArrayList<>();
        for (String name : values.list("named")) {
            devices.add(type.cast(new Lamp(name)));
        }
        return devices;
    }

    @Override
    public Set<String> getNamesOf(HardwareDevice device) {
        return Collections.singleton(((Lamp) device).name);
    }

    private static Object proxy(Class<?> type, InvocationHandler handler) {
        return Proxy.newProxyInstance(type.getClassLoader(), new Class<?>[] {type}, handler);
    }

    private Object screen(Object proxy, Method method, Object[] arguments) {
        if (method.getName().equals("addData")) {
            log.add("[" + arguments[0] + ": " + arguments[1] + "]");
        } else if (method.getName().equals("addLine")) {
            log.add("[" + arguments[0] + "]");
        }
        return null;
    }

    private Object device(String name, Method method, Object[] arguments) {
        String key = name + "." + method.getName();
        // A wire that breaks: "broken=left_wheels.setPower".
        if (values.list("broken").contains(key)) {
            throw new IllegalStateException(key + " is broken");
        }
        if (method.getReturnType() == void.class) {
            log.add(key + "(" + Words.joined(arguments) + ")");
            return null;
        }
        if (method.getName().equals("initialize")) {
            log.add(key);
        }
        if (method.getReturnType() == NormalizedRGBA.class) {
            return shares(name);
        }
        if (method.getReturnType() == YawPitchRollAngles.class) {
            return new Turned(((Double) values.get(name, double.class)).doubleValue());
        }
        return values.get(key, method.getReturnType());
    }

    private NormalizedRGBA shares(String name) {
        NormalizedRGBA shares = new NormalizedRGBA();
        shares.red = share(name + ".red");
        shares.green = share(name + ".green");
        shares.blue = share(name + ".blue");
        shares.alpha = share(name + ".alpha");
        return shares;
    }

    private float share(String name) {
        return ((Double) values.get(name, double.class)).floatValue();
    }

    /** A lamp that says when it is switched. */
    private final class Lamp extends LED {
        private final String name;

        Lamp(String name) {
            this.name = name;
        }

        @Override
        public void enable(boolean on) {
            log.add(name + ".enable(" + on + ")");
        }
    }

    /** A hub that says when its cache is cleared. */
    private final class Hub extends LynxModule {
        @Override
        public void setBulkCachingMode(BulkCachingMode mode) {
            log.add("caching " + mode);
        }

        @Override
        public void clearBulkCache() {
            log.add("cleared");
        }
    }

    /** A robot that has turned. */
    private static final class Turned extends YawPitchRollAngles {
        private final double yaw;

        Turned(double yaw) {
            this.yaw = yaw;
        }

        @Override
        public double getYaw(AngleUnit unit) {
            return unit == AngleUnit.DEGREES ? yaw : Math.toRadians(yaw);
        }
    }
}

package opmodes;

import com.qualcomm.robotcore.hardware.HardwareDevice;
import com.qualcomm.robotcore.hardware.HardwareMap;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Looks names up in the hub's configuration, and tells of all that are not as they should be at
 * once: one after the other would take a start for each.
 */
final class Wiring {

    /** How many names that are nearly right are told. */
    private static final int MOST_NEAR = 3;

    private final HardwareMap hardwareMap;
    private final List<String> troubles = new ArrayList<>();

    Wiring(HardwareMap hardwareMap) {
        this.hardwareMap = hardwareMap;
    }

    /** A name that must be there, for a device of that kind on that port. */
    void expect(Class<?> type, String kind, String name, String port) {
        if (hardwareMap.tryGet(type, name) != null) {
            return;
        }
        if (hardwareMap.tryGet(HardwareDevice.class, name) != null) {
            troubles.add(name + " is another kind of device in the hub's configuration: it should be "
                    + kind + " on " + port + ".");
            return;
        }
        troubles.add(name + " is not in the hub's configuration: it should be " + kind + " on "
                + port + "." + near(name));
    }

    /** What is wrong, in sentences; empty where nothing is. */
    List<String> troubles() {
        return troubles;
    }

    /** The names that are there and nearly right, the nearest first. */
    private String near(String wanted) {
        List<String> found = new ArrayList<>();
        for (int far = 0; far <= wanted.length() / 3; far++) {
            for (HardwareDevice device : hardwareMap.getAll(HardwareDevice.class)) {
                for (String name : hardwareMap.getNamesOf(device)) {
                    boolean first = !found.contains(name) && found.size() < MOST_NEAR;
                    if (first && changes(lower(wanted), lower(name)) == far) {
                        found.add(name);
                    }
                }
            }
        }
        return found.isEmpty() ? "" : " It has " + String.join(", ", found) + ".";
    }

    private static String lower(String name) {
        return name.toLowerCase(Locale.ROOT);
    }

    /** How many letters have to be put in, left out or changed to make one name of the other. */
    private static int changes(String one, String other) {
        int[] before = new int[other.length() + 1];
        for (int j = 0; j < before.length; j++) {
            before[j] = j;
        }
        for (int i = 1; i <= one.length(); i++) {
            int[] now = new int[before.length];
            now[0] = i;
            for (int j = 1; j < now.length; j++) {
                int changed = one.charAt(i - 1) == other.charAt(j - 1) ? 0 : 1;
                now[j] = Math.min(before[j - 1] + changed, 1 + Math.min(before[j], now[j - 1]));
            }
            before = now;
        }
        return before[other.length()];
    }
}

package bench;

import java.util.ArrayList;
import java.util.List;

/** Arguments as text. */
final class Words {

    private Words() {
    }

    static String joined(Object[] arguments) {
        List<String> words = new ArrayList<>();
        if (arguments != null) {
            for (Object argument : arguments) {
                // A zero has no sign for a motor.
                boolean number = argument instanceof Double;
                words.add(String.valueOf(number ? (Double) argument + 0.0 : argument));
            }
        }
        return String.join(",", words);
    }
}

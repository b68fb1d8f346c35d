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
                words.add(String.valueOf(argument));
            }
        }
        return String.join(",", words);
    }
}

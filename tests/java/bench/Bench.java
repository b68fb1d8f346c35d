package bench;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Paths;
import java.util.List;

/**
 * Plays scripts: a line in, a line out.
 *
 * "plan CLASS CHOSEN ..." makes a plan, "look NAME=VALUE ..." lets it look before the start,
 * "pass NANOS NAME=VALUE ..." makes a pass of it and "stop" stops it;
 * "op mode CLASS" makes an op mode on pretend hardware and "call METHOD DEVICE.METHOD=VALUE ..."
 * calls one of its methods. What is set stays until it is set again.
 */
public final class Bench {

    private Bench() {
    }

    public static void main(String[] arguments) throws IOException, ReflectiveOperationException {
        List<String> lines = Files.readAllLines(Paths.get(arguments[0]), StandardCharsets.UTF_8);
        PrintStream out = new PrintStream(System.out, true, "UTF-8");
        Player player = null;
        for (String line : lines) {
            if (line.startsWith("plan ")) {
                player = new PretendParts(line.substring(5).split(" "));
                out.println("ok");
            } else if (line.startsWith("op mode ")) {
                player = new PretendHardware(line.substring(8));
                out.println("ok");
            } else if (player != null) {
                out.println(player.play(line.split(" ")));
            }
        }
    }

    /** Plays one line, given as words, and says what happened. */
    interface Player {
        String play(String[] words) throws ReflectiveOperationException;
    }
}

package opmodes;

import com.qualcomm.robotcore.util.RobotLog;
import java.io.File;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import plans.RunLog;

/** A file for the log of a run, named after its routine and the time. */
final class LogFile implements RunLog.Sink {

    /** Where a computer finds it: adb pull /sdcard/run_logs. Common practice, no source. */
    private static final String FOLDER = System.getProperty("run.logs", "/sdcard/run_logs");

    private final String routine;

    LogFile(String routine) {
        this.routine = routine;
    }

    @Override
    public void write(CharSequence lines) throws IOException {
        File folder = new File(FOLDER);
        if (!folder.isDirectory() && !folder.mkdirs()) {
            throw new IOException("there is no folder " + folder);
        }
        File file = new File(folder, routine + "-" + System.currentTimeMillis() + ".csv");
        try (Writer writer = new OutputStreamWriter(
                new FileOutputStream(file), StandardCharsets.UTF_8)) {
            writer.append(lines);
        }
    }

    /** Writes a log once the run is over. A log that cannot be written is no reason to fail. */
    static void save(RunLog log, String routine) {
        try {
            log.write(new LogFile(routine));
        } catch (IOException failure) {
            RobotLog.ee("run log", "%s was not logged: %s", routine, failure);
        }
    }
}

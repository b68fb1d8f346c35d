package org.firstinspires.ftc.robotcore.external;

public interface Telemetry {
    interface Item {
    }

    interface Line {
    }

    Item addData(String caption, Object value);

    Item addData(String caption, String format, Object... args);

    Line addLine(String lineCaption);

    boolean update();
}

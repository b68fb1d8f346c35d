package org.firstinspires.ftc.robotcore.external.navigation;

public enum DistanceUnit {
    METER,
    CM,
    MM,
    INCH
}

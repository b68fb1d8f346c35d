package org.firstinspires.ftc.robotcore.external.navigation;

public enum AngleUnit {
    DEGREES,
    RADIANS
}

package org.firstinspires.ftc.robotcore.external.navigation;

/** Signatures only; a test turns the robot. */
public class YawPitchRollAngles {
    public double getYaw(AngleUnit angleUnit) {
        return 0.0;
    }
}

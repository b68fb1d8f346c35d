package com.qualcomm.robotcore.hardware;

import org.firstinspires.ftc.robotcore.external.navigation.YawPitchRollAngles;

public interface IMU extends HardwareDevice {
    /** Signatures only. */
    class Parameters {
        public Parameters(ImuOrientationOnRobot imuOrientationOnRobot) {
        }
    }

    boolean initialize(Parameters parameters);

    void resetYaw();

    YawPitchRollAngles getRobotYawPitchRollAngles();
}

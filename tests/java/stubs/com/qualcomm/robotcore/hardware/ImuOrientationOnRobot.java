package com.qualcomm.robotcore.hardware;

public interface ImuOrientationOnRobot {
}

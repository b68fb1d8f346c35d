package com.qualcomm.robotcore.hardware;

public interface Servo extends HardwareDevice {
    enum Direction { FORWARD, REVERSE }

    void setDirection(Direction direction);

    void setPosition(double position);

    void scaleRange(double min, double max);
}

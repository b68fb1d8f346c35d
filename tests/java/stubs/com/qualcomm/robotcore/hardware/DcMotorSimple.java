package com.qualcomm.robotcore.hardware;

public interface DcMotorSimple extends HardwareDevice {
    enum Direction { FORWARD, REVERSE }

    void setDirection(Direction direction);

    void setPower(double power);

    double getPower();
}

package com.qualcomm.robotcore.hardware;

public interface CRServo extends DcMotorSimple {
}

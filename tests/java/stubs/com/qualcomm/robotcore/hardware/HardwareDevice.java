package com.qualcomm.robotcore.hardware;

public interface HardwareDevice {
}

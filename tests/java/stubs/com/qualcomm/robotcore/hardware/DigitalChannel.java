package com.qualcomm.robotcore.hardware;

public interface DigitalChannel extends HardwareDevice {
    enum Mode { INPUT, OUTPUT }

    void setMode(Mode mode);

    boolean getState();

    void setState(boolean state);
}

package com.qualcomm.robotcore.hardware;

public interface NormalizedColorSensor extends HardwareDevice {
    NormalizedRGBA getNormalizedColors();

    void setGain(float gain);
}

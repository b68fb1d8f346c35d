package com.qualcomm.robotcore.hardware;

/** Signatures only. */
public class LED implements HardwareDevice {
    public void enable(boolean enableLed) {
    }
}

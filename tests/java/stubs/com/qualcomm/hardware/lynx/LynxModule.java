package com.qualcomm.hardware.lynx;

import com.qualcomm.robotcore.hardware.HardwareDevice;

/** Signatures only. */
public class LynxModule implements HardwareDevice {
    public enum BulkCachingMode { OFF, MANUAL, AUTO }

    public void setBulkCachingMode(BulkCachingMode mode) {
    }

    public void clearBulkCache() {
    }
}

package com.qualcomm.robotcore.hardware;

import java.util.Collections;
import java.util.List;
import java.util.Set;

/** Signatures only; a test puts its own devices in. */
public class HardwareMap {
    public <T> T get(Class<? extends T> classOrInterface, String deviceName) {
        throw new IllegalArgumentException(deviceName);
    }

    public <T> T tryGet(Class<? extends T> classOrInterface, String deviceName) {
        return null;
    }

    public <T> List<T> getAll(Class<? extends T> classOrInterface) {
        return Collections.emptyList();
    }

    public Set<String> getNamesOf(HardwareDevice device) {
        return Collections.emptySet();
    }
}

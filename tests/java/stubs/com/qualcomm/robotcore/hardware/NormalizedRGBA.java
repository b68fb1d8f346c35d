package com.qualcomm.robotcore.hardware;

public class NormalizedRGBA {
    public float red;
    public float green;
    public float blue;
    public float alpha;
}

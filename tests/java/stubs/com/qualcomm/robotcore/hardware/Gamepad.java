package com.qualcomm.robotcore.hardware;

public class Gamepad {
    public boolean a;
    public boolean b;
    public boolean x;
    public boolean y;
}

package com.qualcomm.robotcore.hardware;

public class Gamepad {
    public boolean a;
    public boolean b;
    public boolean x;
    public boolean y;
    public boolean dpad_up;
    public boolean dpad_down;
    public boolean dpad_left;
    public boolean dpad_right;
    public boolean start;
}

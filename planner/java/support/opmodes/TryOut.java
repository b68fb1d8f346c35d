package opmodes;

import com.qualcomm.robotcore.hardware.DcMotor;
import com.qualcomm.robotcore.hardware.DcMotorSimple;
import com.qualcomm.robotcore.hardware.Gamepad;
import com.qualcomm.robotcore.hardware.LED;
import java.util.ArrayList;
import java.util.List;
import org.firstinspires.ftc.robotcore.external.Telemetry;

/**
 * Tries motors and lamps one at a time, at low power, and only for as long as a button is held.
 *
 * A button that is down already when the op mode starts does nothing until it has been let go, and
 * neither do two at once. Servos are left out: how far one may turn before something breaks, only
 * the team knows.
 */
final class TryOut {

    /** Share of full power: enough to see which way something turns. */
    private static final double LOW_POWER = 0.2;

    private static final int OFF = 0;
    private static final int FORWARDS = 1;
    private static final int BACKWARDS = -1;

    private final List<Output> outputs = new ArrayList<>();
    private int chosen;
    private int running = OFF;
    private boolean letGo;

    /** A motor, or a servo that turns like one. */
    void motor(String name, String port, DcMotorSimple motor) {
        outputs.add(new Output(name, port, motor, null));
    }

    void lamp(String name, String port, LED lamp) {
        outputs.add(new Output(name, port, null, lamp));
    }

    /** One pass: runs what a held button says, or chooses another one, and shows it all. */
    void pass(Gamepad pad, Telemetry telemetry) {
        if (outputs.isEmpty()) {
            return;
        }
        int wanted = OFF;
        boolean asked = pad.a || pad.b;
        boolean choosing = pad.dpad_up || pad.dpad_down;
        if (pad.start) {
            // Start and a together only tell the driver station whose gamepad this is.
            letGo = false;
        } else if (!asked && !choosing) {
            letGo = true;
        } else if (letGo && pad.a != pad.b) {
            wanted = pad.a ? FORWARDS : BACKWARDS;
        } else {
            if (letGo && !asked && pad.dpad_up != pad.dpad_down) {
                run(OFF);
                int step = pad.dpad_down ? 1 : outputs.size() - 1;
                chosen = (chosen + step) % outputs.size();
            }
            letGo = false;
        }
        run(wanted);
        show(telemetry);
    }

    /** Everything off, whatever is held. */
    void off() {
        letGo = false;
        running = OFF;
        for (Output output : outputs) {
            output.run(OFF);
        }
    }

    private void run(int wanted) {
        if (wanted != running) {
            outputs.get(chosen).run(wanted);
            running = wanted;
        }
    }

    private void show(Telemetry telemetry) {
        telemetry.addLine("Wheels off the ground, hands clear, a person on the stop button.");
        telemetry.addLine("Hold a: forwards, b: backwards, at "
                + Math.round(LOW_POWER * 100.0) + " % power. Up, down: choose another.");
        for (int i = 0; i < outputs.size(); i++) {
            Output output = outputs.get(i);
            String mark = i == chosen ? "> " : "";
            telemetry.addData(mark + output.name + ", " + output.port,
                    output.inWords(i == chosen ? running : OFF));
        }
    }

    /** A motor or a lamp: one of the two is there. */
    private static final class Output {
        private final String name;
        private final String port;
        private final DcMotorSimple motor;
        private final LED lamp;

        Output(String name, String port, DcMotorSimple motor, LED lamp) {
            this.name = name;
            this.port = port;
            this.motor = motor;
            this.lamp = lamp;
        }

        void run(int way) {
            if (motor != null) {
                motor.setPower(way * LOW_POWER);
            }
            if (lamp != null) {
                lamp.enable(way != OFF);
            }
        }

        String inWords(int way) {
            if (lamp != null) {
                return way == OFF ? "off" : "on";
            }
            String turns = way == OFF ? "off" : way == FORWARDS ? "forwards" : "backwards";
            if (motor instanceof DcMotor) {
                return turns + ", at " + ((DcMotor) motor).getCurrentPosition() + " ticks";
            }
            return turns;
        }
    }
}

package opmodes;

import org.firstinspires.ftc.robotcore.external.Telemetry;
import plans.Watched;

/** Puts on the screen what a plan looks at and remembers, and names what cannot be read. */
final class Readings implements Watched.Screen {

    private static final double NANOS_IN_A_SECOND = 1e9;

    private final Telemetry telemetry;
    private String unreadable = "";

    private Readings(Telemetry telemetry) {
        this.telemetry = telemetry;
    }

    /** Where each lane is, while some run side by side, and what the last pass looked at. */
    static void show(Watched plan, Telemetry telemetry) {
        for (int i = 0; i < plan.lanes(); i++) {
            String lane = "lane " + plan.laneName(i);
            telemetry.addData(lane, plan.stepInWords(i) + ", for "
                    + Words.of(plan.nanosInStep(i) / NANOS_IN_A_SECOND, "s"));
            telemetry.addData(lane + ": why it moved here", plan.why(i));
            telemetry.addData(lane + ": waits for", plan.waitsFor(i));
        }
        Readings screen = new Readings(telemetry);
        plan.show(screen);
        if (!screen.unreadable.isEmpty()) {
            telemetry.addLine("Cannot be read: " + screen.unreadable
                    + ". The time limits decide, or what the plan has for that.");
        }
    }

    @Override
    public void number(int index, String name, double number, String unit) {
        note(name, Double.isNaN(number));
        telemetry.addData(name, Words.of(number, unit));
    }

    @Override
    public void word(int index, String name, Object word) {
        note(name, word == null);
        telemetry.addData(name, Words.of(word));
    }

    @Override
    public void count(int index, String name, int number) {
        telemetry.addData(name, Words.of(number));
    }

    private void note(String name, boolean cannotBeRead) {
        if (cannotBeRead) {
            unreadable += unreadable.isEmpty() ? name : ", " + name;
        }
    }
}

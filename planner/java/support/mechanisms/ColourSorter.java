package mechanisms;

import plans.Colour;

/**
 * Sorts what a colour sensor measures into colours.
 *
 * The borders below are common practice for a sensor with its own white lamp a few centimetres from
 * the floor. Floors, tape and light differ: run the sensor check over your own field and move the
 * borders until every colour is named right. Between two colours the answer is unsure, on purpose.
 */
final class ColourSorter {

    /** Strongest share below this: too dark to tell a colour. */
    private static final double DARK = 0.02;
    /** Grey at least this bright is white. */
    private static final double BRIGHT = 0.10;
    /** Less colourful than this is grey: black, white or unsure. */
    private static final double GREY = 0.25;

    private ColourSorter() {
    }

    /** The colour of three shares from 0 to 1, as the sensor normalises them. */
    static Colour sort(double red, double green, double blue) {
        double strongest = Math.max(red, Math.max(green, blue));
        double weakest = Math.min(red, Math.min(green, blue));
        if (Double.isNaN(strongest) || Double.isNaN(weakest)) {
            return Colour.UNSURE;
        }
        if (strongest < DARK) {
            return Colour.BLACK;
        }
        if ((strongest - weakest) / strongest < GREY) {
            return strongest >= BRIGHT ? Colour.WHITE : Colour.UNSURE;
        }
        return named(hue(red, green, blue, strongest, weakest));
    }

    /** The colour of a hue in degrees: 0 is red, 120 green, 240 blue. */
    private static Colour named(double hue) {
        if (hue < 25.0 || hue >= 340.0) {
            return Colour.RED;
        }
        if (hue >= 40.0 && hue < 80.0) {
            return Colour.YELLOW;
        }
        if (hue >= 90.0 && hue < 170.0) {
            return Colour.GREEN;
        }
        if (hue >= 190.0 && hue < 270.0) {
            return Colour.BLUE;
        }
        return Colour.UNSURE;
    }

    /** The angle on the colour circle, as the HSV colour space measures it. */
    private static double hue(
            double red, double green, double blue, double strongest, double weakest) {
        double spread = strongest - weakest;
        double sixths;
        if (strongest == red) {
            sixths = (green - blue) / spread;
        } else if (strongest == green) {
            sixths = 2.0 + (blue - red) / spread;
        } else {
            sixths = 4.0 + (red - green) / spread;
        }
        return (60.0 * sixths + 360.0) % 360.0;
    }
}

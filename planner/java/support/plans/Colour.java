package plans;

/** What a colour sensor can see; UNSURE is an answer too, and a plan can ask for it. */
public enum Colour {
    RED("red"),
    YELLOW("yellow"),
    GREEN("green"),
    BLUE("blue"),
    WHITE("white"),
    BLACK("black"),
    UNSURE("unsure");

    private final String word;

    Colour(String word) {
        this.word = word;
    }

    @Override
    public String toString() {
        return word;
    }
}

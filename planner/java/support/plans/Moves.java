package plans;

/**
 * The moves of one pass, in their order: of lanes that run side by side each can make one.
 *
 * The room for them is there before the start, so that a pass takes no new memory.
 */
public final class Moves {

    private final String[] lanes;
    private final String[] steps;
    private final String[] whys;
    private int count;

    /** Makes room for the most moves that a pass can have. */
    public Moves(int most) {
        lanes = new String[most];
        steps = new String[most];
        whys = new String[most];
    }

    /** At the beginning of a pass. */
    public void clear() {
        count = 0;
    }

    /** Takes note of a move to a step; outside of lanes the lane has no name. */
    public void add(String lane, String step, String why) {
        lanes[count] = lane;
        steps[count] = step;
        whys[count] = why;
        count++;
    }

    public int count() {
        return count;
    }

    public String lane(int move) {
        return lanes[move];
    }

    public String step(int move) {
        return steps[move];
    }

    public String why(int move) {
        return whys[move];
    }
}

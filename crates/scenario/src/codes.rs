//! Every code a complaint can carry.

/// Code and what it says, in order of code.
pub const CODES: &[(&str, &str)] = &[
    (
        "already-there",
        "a change adds something under a name that is taken",
    ),
    (
        "before-the-start",
        "a clock time lies before the start of the meal",
    ),
    (
        "belt-runs-again",
        "a belt or lane is told to run again after a stop; it can only go on",
    ),
    (
        "beside-nothing",
        "a belt runs beside itself, or beside one that runs beside another",
    ),
    (
        "break-outside-shift",
        "a break is due when its worker is not on shift",
    ),
    ("cannot-read-table", "a table of arrivals cannot be read"),
    ("cycle-not-positive", "a wash cycle lasts no time"),
    (
        "days-of-instants",
        "observed instants are to be scaled from day to day",
    ),
    (
        "does-not-fit",
        "the file fits the schema but not the types; this would be a fault of the program",
    ),
    (
        "does-nothing",
        "a post neither takes anything off a tray nor handles it",
    ),
    (
        "faster-than-plate",
        "a machine is asked to run faster than its data plate",
    ),
    (
        "gate-does-not-fit",
        "a gate stands where nothing can wait, or has a rule that cannot be kept",
    ),
    (
        "goes-nowhere",
        "a post takes a part off each tray, and the rest goes nowhere",
    ),
    (
        "goes-round",
        "trays passed on from post to post, or racks from lane to lane, come back",
    ),
    (
        "goes-two-ways",
        "a lane hands its racks to another lane and would feed machines besides",
    ),
    (
        "hold-more-than-lane",
        "a machine waits for more racks than its lane holds",
    ),
    (
        "incline-does-not-run",
        "an inclined lane falls too little for its racks to run, or more than it is long",
    ),
    ("key-twice", "a key stands twice in one table"),
    ("lane-holds-none", "a lane is shorter than one rack"),
    (
        "last-jobs-wait",
        "nobody steps in at a post for a single waiting job, and the meal has no stated end",
    ),
    (
        "leads-nowhere",
        "nothing takes trays from a belt's end or from a table",
    ),
    (
        "leaves-before-coming",
        "a worker would leave a post at a level at which they would come",
    ),
    (
        "lists-differ",
        "two lists that belong together have lengths that do not",
    ),
    (
        "load-brings-nothing",
        "the trays of a load are of a kind that brings nothing, or that has courses",
    ),
    (
        "long-gone",
        "people are said to be eating who would have left before the start",
    ),
    ("many-more", "there are more faults than are shown"),
    (
        "min-mode-max",
        "least, most likely and greatest value are out of order",
    ),
    (
        "misses-a-pass",
        "ware that is washed twice is sent straight to where it is sorted for the second pass",
    ),
    ("missing-key", "a key is missing that is needed"),
    ("name-twice", "two things of one kind have the same name"),
    (
        "never-ends",
        "a drop-off never closes and the meal has no stated end",
    ),
    (
        "never-fed",
        "nothing ever comes to a belt, table, lane, machine or clean end",
    ),
    (
        "never-two",
        "a task for two can never be manned by two people",
    ),
    (
        "no-choice-there",
        "an order between classes is said where racks keep the order in which they came",
    ),
    ("no-covers", "nobody comes to the meal"),
    ("no-crew", "nobody is on the crew"),
    (
        "no-days",
        "something is owned, and on no day of the year is there a meal to bear what it costs",
    ),
    ("no-drive", "trouble stops something that has no drive"),
    (
        "no-life",
        "something owned has a price, and no years are said over which it falls",
    ),
    ("no-mean", "readings or counts have no mean above nought"),
    (
        "no-par",
        "a runner watches, covers miss, or pieces are priced of, ware whose stock is not followed",
    ),
    ("no-post", "a worker has a shift and no post"),
    (
        "no-price",
        "something is owned and has neither a price nor an upkeep",
    ),
    ("no-rack-takes", "ware is racked that no rack takes"),
    (
        "no-reservoir",
        "a machine without a detergent reservoir is to be filled up",
    ),
    (
        "no-room",
        "trays are to go on over a table with room for nothing",
    ),
    (
        "no-room-there",
        "what is already there finds no room, no rack or no ware, or is in a machine that is cold",
    ),
    (
        "no-room-to-load",
        "a machine loaded by hand is fed by a lane on which no rack can wait",
    ),
    (
        "no-slots",
        "ware is placed on a flight machine that does not say how many of it its belt takes",
    ),
    ("no-such-column", "a table of arrivals lacks a column"),
    (
        "no-such-pile",
        "ware goes on a pile that a racking table does not have",
    ),
    (
        "no-work-there",
        "a worker has a post on the list where nothing is done by hand",
    ),
    (
        "nobody-stands-there",
        "work is done at a post that is on nobody's list",
    ),
    (
        "nobody-takes-it",
        "a tray is shared by a kind of diner that takes none",
    ),
    (
        "not-a-change",
        "a change is not of the form PATH=VALUE, +PATH=VALUE or -PATH",
    ),
    ("not-a-clock-time", "a text is no clock time"),
    (
        "not-a-count",
        "a row of a table of arrivals has no whole number of covers",
    ),
    (
        "not-a-flight-machine",
        "ware is to be placed on a machine that takes racks",
    ),
    ("not-a-name", "a name has letters that names cannot have"),
    (
        "not-clear-where",
        "several racking tables could take a class of ware",
    ),
    (
        "not-counted",
        "something has a price for each, and nothing of it is counted",
    ),
    ("not-finite", "a number is infinite or no number"),
    ("not-json", "the text is not JSON"),
    (
        "not-taken-off",
        "a post is told of ware that it leaves on the tray",
    ),
    (
        "not-taken-there",
        "what is already in a receiver is of a class that is never put into it",
    ),
    ("not-there", "a change takes away what is not there"),
    ("not-toml", "the text is not TOML"),
    ("not-whole", "a whole number has a fraction"),
    ("off-the-belt", "a point lies past the end of its belt"),
    (
        "one-bound",
        "a target has no bound, several, or one of the wrong kind",
    ),
    (
        "one-class-a-rack",
        "several classes of ware are put into one rack",
    ),
    (
        "overflow-never-fetched",
        "trays left aside are fetched by nobody",
    ),
    (
        "rinse-outside-tunnel",
        "the rinse zone does not lie in the tunnel",
    ),
    (
        "roster-left-open",
        "a head count does not end with everybody gone home",
    ),
    (
        "row-unreadable",
        "a row of a table of arrivals cannot be read",
    ),
    (
        "row-without-time",
        "a row of a table of arrivals has no time",
    ),
    ("said-twice", "two keys say different things about one"),
    ("sd-or-cv", "a distribution has neither sd nor cv, or both"),
    ("shares-not-one", "shares do not sum to 1"),
    (
        "shelf-stops",
        "a lane that is a shelf is told to stop; nothing on it moves",
    ),
    (
        "size-without-choice",
        "a size to be chosen names neither a key with values nor options, or both",
    ),
    (
        "staffing-bounds",
        "a bound of a role, a crew or a contract contradicts another, or is off the quarter hour",
    ),
    (
        "takes-itself",
        "a class of ware that has run out is replaced by itself",
    ),
    ("times-out-of-order", "times are not in clock order"),
    ("too-large", "a number, a text or a list is over its limit"),
    ("too-small", "a number, a text or a list is under its limit"),
    ("two-choices", "a choice has more than one key"),
    ("two-lanes", "two lanes feed one machine"),
    ("two-units", "one thing is given in two units"),
    ("unknown-choice", "a value is not among the choices"),
    ("unknown-key", "a key is not known"),
    ("unknown-measure", "a target names no measure"),
    ("unknown-name", "a name is not that of anything in the file"),
    ("way-in-a-circle", "a way ends where it begins"),
    (
        "wrong-type",
        "a value is of another type than its key needs",
    ),
];

package sources

// rigAndRules are measuring sheets, rules and lists of the trade.
var rigAndRules = []Source{
	{
		Key: "federation survey sheet", In: "a federation's sheet for measuring oars and riggers",
		Read: Itself,
		For: "what span, spread, inboard and length are; width of a gate; survey ratio; overlap with the " +
			"gates",
	},
	{
		Key: "federation survey 2011", Year: 2011, In: "slides of a survey at a junior world championship",
		Read: Itself,
		For:  "how alike rigs are inside one boat",
	},
	{
		Key: "federation handbooks", In: "handbooks of several federations and clubs", Read: Itself,
		For: "usual spans, spreads, lengths, inboards, heights, pitch and arcs",
	},
	{
		Key: "federation medical adviser", In: "a national federation's medical adviser", Read: Partly,
		For: "wrong gearing can overload",
	},
	{
		Key: "Nolte 2023", Authors: "Nolte", Year: 2023, Read: Partly,
		For: "inboard from spread or span",
	},
	{
		Key: "World Rowing minimum masses", In: "rules of racing; rule number and year not in our notes",
		Read: Itself,
		For:  "lightest hulls by class; the cox's minimum mass",
	},
	{
		Key: "best times of record", In: "dated copies of the public list of best times over 2000 m",
		Read:  Itself,
		For:   "ratios of the classes' times",
		Doubt: "rowed in tailwinds: ratios only, and those to the weather of each day",
	},
	{
		Key: "Barrow 2010", Authors: "Barrow", Year: 2010, In: "American Journal of Physics", Read: Itself,
		For: "seat orders of sweep boats without a turning moment",
	},
}

package sources

// waterAndAir are the sources about the hull's water and the air.
var waterAndAir = []Source{
	{
		Key: "ITTC 7.5-02-01-03", In: "recommended procedure, fresh water and sea water properties",
		Read: Quoted,
		For:  "density of fresh water by temperature; viscosity at 15 °C",
	},
	{
		Key: "ITTC 1957", Year: 1957, In: "the ship-model correlation line", Read: Quoted,
		For: "friction along a hull by Reynolds number",
	},
	{
		Key: "Morrall 1970", Authors: "Morrall", Year: 1970, In: "NPL Ship Report", Pages: "142",
		Read: Partly,
		For:  "a worked example of the ITTC line",
	},
	{
		Key: "ISO 2533", In: "standard atmosphere", Read: Partly,
		For: "density of air at 15 °C",
	},
	{
		Key: "Lazauskas 1997", Authors: "Lazauskas", Year: 1997, In: "report and performance model,",
		Pages: "L9701", Read: Partly,
		For: "waterline lengths by class; travel of the body",
	},
	{
		Key: "Tuck & Lazauskas 1996", Authors: "Tuck & Lazauskas", Year: 1996, Read: Memory,
		For: "share of the waves in a racing hull's resistance; mathematical hull forms",
	},
	{
		Key: "Scragg & Nelson 1993", Authors: "Scragg & Nelson", Year: 1993, Read: Quoted,
		For: "form factor of racing hulls, quoted by Tuck & Lazauskas 1996",
	},
	{
		Key: "Michell 1898", Authors: "Michell", Year: 1898, Read: Textbook,
		For: "wave resistance of a thin ship",
	},
	{
		Key: "Sretensky, finite depth", Authors: "Sretensky",
		In: "the integral of Michell 1898 for water of finite depth", Read: Textbook,
		For: "wave resistance in shallow water",
	},
	{
		Key: "Prandtl's rule", Authors: "Prandtl",
		In: "friction of a plate whose boundary layer begins laminar", Read: Textbook,
		For:   "a laminar start at the bow",
		Doubt: "nobody knows where the flow turns along a racing hull",
	},
	{
		Key: "McMahon 1971", Authors: "McMahon", Year: 1971, In: "Science", Volume: "173", Pages: "349–351",
		Read: Quoted,
		For:  "speed and the number of rowers in hulls of one shape",
	},
	{
		Key: "Baudouin & Hawkins 2004", Authors: "Baudouin & Hawkins", Year: 2004,
		In: "Br J Sports Med", Volume: "38", Read: Itself,
		For: "frontal areas of rower, shafts, riggers and hull, table 1",
	},
	{
		Key: "wind newsletter 2009", Year: 2009, In: "a biomechanics newsletter of December that reports " +
			"tunnel and water work of the 1970s", Read: Quoted,
		For:   "wind, water temperature and early squaring by what they cost",
		Doubt: "its reporter thinks the wind's part too high",
	},
	{
		Key: "wind tunnel of the 1970s", In: "authors and title not in our notes", Read: Quoted,
		For: "share of the air in the resistance in calm",
	},
	{
		Key: "Wu 1975", Authors: "Wu", Year: 1975, In: "J Fluid Mech", Volume: "68", Read: Quoted,
		For: "how fast wind drags the water's surface along",
	},
	{
		Key: "weather-service glossary", In: "entry on wind drift", Read: Quoted,
		For: "drift of 2 to 3.5 % of the wind on open water",
	},
}

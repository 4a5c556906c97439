package sources

// crew are the sources about rowers, their strokes and their care.
var crew = []Source{
	{
		Key: "Hofmijster et al. 2018", Authors: "Hofmijster et al.", Year: 2018, In: "J Sports Sci",
		Read:  Abstract,
		For:   "power of moving the body in a single",
		Doubt: "simulated by its authors from rowing on a machine",
	},
	{
		Key: "Hofmijster et al. 2007", Authors: "Hofmijster et al.", Year: 2007, In: "J Sports Sci",
		Read: Abstract,
		For:  "what a higher rate does to the blade's and the hull's efficiency",
	},
	{
		Key: "de Brouwer et al. 2013", Authors: "de Brouwer, de Poel & Hofmijster", Year: 2013,
		In: "PLoS ONE", Volume: "8", Pages: "e54996", Read: Abstract,
		For:   "power lost to the boat's uneven speed",
		Doubt: "a general statement of the paper, not a result of it",
	},
	{
		Key: "Hill & Fahrig 2009", Authors: "Hill & Fahrig", Year: 2009, In: "Scand J Med Sci Sports",
		Read:  Abstract,
		For:   "seconds lost to uneven speed by eight coxless pairs",
		Doubt: "power is taken as the square of speed",
	},
	{
		Key: "Dal Monte & Komor 1989", Authors: "Dal Monte & Komor", Year: 1989, Read: Quoted,
		For: "travel of a rower's centre of mass",
	},
	{
		Key: "Sprague 2007", Authors: "Sprague", Year: 2007, Read: Partly,
		For: "handle speed of most power on an inertial rowing machine",
	},
	{
		Key: "Holt et al. 2020", Authors: "Holt et al.", Year: 2020,
		In: "Front Sports Act Living", Volume: "2", Pages: "589013", Read: Abstract,
		For: "47 races of singles and pairs: what goes with speed at the same power",
	},
	{
		Key: "telemetry newsletter", In: "a newsletter on telemetry of mixed crews, about 36 000 samples",
		Read:  Quoted,
		For:   "drive time by boat and rate",
		Doubt: "how the drive's ends are told is not in our notes",
	},
	{
		Key: "race powers", In: "published figures of international crews, source not in our notes",
		Read: Quoted,
		For:  "power over a race: men 480 to 600 W, women 300 to 380 W",
	},
	{
		Key: "McDonnell, Hume & Nolte 2011", Authors: "McDonnell, Hume & Nolte", Year: 2011, Read: Partly,
		For: "rib stress injury among rowers",
	},
	{
		Key: "Evans & Redgrave 2016", Authors: "Evans & Redgrave", Year: 2016, Read: Partly,
		For: "rib stress injury: management",
	},
	{
		Key: "Wilson et al. 2021", Authors: "Wilson et al.", Year: 2021, Read: Partly,
		For: "low back pain among rowers: a consensus",
	},
}

package sources

// oarAndBlade are the sources about oars and the water on their blades.
var oarAndBlade = []Source{
	{
		Key: "Affeld et al. 1993", Authors: "Affeld, Schichl & Ziemann", Year: 1993,
		In: "Int J Sports Med", Volume: "14", DOI: "10.1055/s-2007-1021223", Read: Abstract,
		For:   "the share of the energy that is lost at the blade, from path and force recorded on the water",
		Doubt: "the boats are not named in the abstract; the year suggests tulip blades",
	},
	{
		Key: "Caplan & Gardner 2007", Authors: "Caplan & Gardner", Year: 2007,
		In: "J Sports Sci", Volume: "25(6)", Pages: "643–650", Read: Quoted,
		For: "drag and lift of quarter-scale blades in a flume",
		Doubt: "its lift, 1.25, would make water push a blade along its own motion; unbounded plates have " +
			"a drag of 1.15 to 1.2",
	},
	{
		Key: "Hoerner 1965", Authors: "Hoerner", Year: 1965, Read: Memory,
		For: "drag of a plate square to an unbounded stream; drag of a seated person",
	},
	{
		Key: "Ortiz, Rival & Wood 2015", Authors: "Ortiz, Rival & Wood", Year: 2015,
		In: "Energies", Volume: "8", Pages: "2438–2453", Read: Partly,
		For: "the force on a flat plate is normal to it: lift is half of drag",
	},
	{
		Key: "Coppel et al. 2009", Authors: "Coppel, Gardner, Caplan & Hargreaves", Year: 2009,
		Read:  Abstract,
		For:   "what another set of blade coefficients does to a simulated single's speed",
		Doubt: "the computed coefficients are not at hand, so only the size can be compared",
	},
	{
		Key: "van Nieuwburg et al. 2023", Authors: "van Nieuwburg et al.", Year: 2023, Read: Abstract,
		For: "speed gained by a blade tilted on its shaft",
		Doubt: "the model has neither tilt nor depth nor the lift of a tip vortex: the number cannot be " +
			"rowed here",
	},
	{
		Key: "Grift et al. 2019", Authors: "Grift et al.", Year: 2019, Read: Abstract,
		For: "drag of a plate near the water's surface grows with its depth",
	},
	{
		Key: "Grift, Tummers & Westerweel 2021", Authors: "Grift, Tummers & Westerweel", Year: 2021,
		In: "J Fluid Mech", Read: Unread,
		For: "forces and two efficiencies of a realistic blade path in a tank: the first paper to read next",
	},
	{
		Key: "Hofmijster et al. 2010", Authors: "Hofmijster et al.", Year: 2010, Read: Quoted,
		For: "loss of the blade's way along itself",
	},
	{
		Key: "Kleshnev 1999", Authors: "Kleshnev", Year: 1999, Read: Memory,
		For:   "blade efficiency of a single and an eight",
		Doubt: "nobody read it this time: shown, never counted",
	},
	{
		Key: "Baudouin & Hawkins 2002", Authors: "Baudouin & Hawkins", Year: 2002, Read: Itself,
		For: "the box around a sweep blade, table 1",
	},
	{
		Key: "DNV-RP-C205", In: "recommended practice, appendix D", Read: Memory,
		For:   "added mass of a rectangular plate by its length over its width",
		Doubt: "for deep water; the sureness of the memory is high",
	},
	{
		Key: "Cabrera, Ruina & Kleshnev 2006", Authors: "Cabrera, Ruina & Kleshnev", Year: 2006, Read: Partly,
		For: "a model needs a blade that slips; a shaft that bends does not improve its fit",
	},
	{
		Key: "Laschowski et al. 2015", Authors: "Laschowski et al.", Year: 2015,
		In: "J Sports Eng Technol", Volume: "229", Read: Abstract,
		For: "shafts of unlike stiffness in singles: differences of acceleration and gate force of the " +
			"size of a rower's own scatter",
	},
	{
		Key: "Nolte 2009", Authors: "Nolte", Year: 2009,
		In: "J Appl Biomech", Volume: "25", Pages: "1–8", Read: Partly,
		For: "bigger or better blades go with shorter oars",
	},
	{
		Key: "Shaw 2012", Authors: "Shaw", Year: 2012,
		In: "in Rankov (ed.), ch. 3 app. 1–3 and ch. 9", Read: Quoted,
		For: "worked strokes and oars of a fixed-seat boat: advance of a blade that does not slip, " +
			"inertia of an oar",
		Doubt: "two rows of the ten inertias are misprinted by a tenth",
	},
}

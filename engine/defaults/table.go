package defaults

import "math"

// Sources named more than once.
const (
	minimumMass = "World Rowing minimum masses"
	lazauskas   = "Lazauskas 1997"
	ratios      = "fitted so that the ratios of the men's best times of record come out: rowers of 90 kg, " +
		"470 W at the handle, " +
		"36, 37, 37, 38, 38, 39 strokes a minute in the 1x, 2x, 2-, 4x, 4-, 8+, two decimals; theory is 1 " +
		"and makes crew boats too fast: " +
		"a calibration, closer than the weather of that list allows, so 0.05 either way is open"
	caplan = "Caplan & Gardner 2007 (flume, second-hand); 1.85-2.1 in the flume, 1.15-1.2 unbounded " +
		"(Hoerner 1965)"
	stillAir = "still-air drag 9-12 % of water drag; 12-13 % in a tunnel (wind tunnel of the 1970s); " +
		"air_area +-40 % in studies of wind"
	bodies = "frontal areas of Baudouin & Hawkins 2004, table 1 (rower 0.51 m² upright, 0.33 m² leaning; " +
		"riggers; hull): first rower with rigger and hull's part; a seated person is larger, 0.61 m² " +
		"(Hoerner 1965)"
	survey   = "federation survey sheet"
	practice = "common practice, no source"

	seatOverWater = "from memory; a heavier crew sits lower: measure it"
)

var none = math.NaN()

// table is the documentation's table "Defaults", line by line.
var table = []Default{
	{"water", "temperature", "", 15, "°C", none, none, "ITTC 7.5-02-01-03, fresh water: 999.1026 kg/m³, " +
		"1.13858e-6 m²/s at 15 °C", Quoted},
	{"water", "drift", "", 0, "%", 0, 3.5, "of the wind's speed; 2-3.5 % reported for open water, less " +
		"near a bank (Wu 1975, J Fluid Mech 68; weather services' glossaries)", Quoted},
	{"air", "density", "", 1.225, "kg/m³", none, none, "ISO 2533 standard atmosphere, 15 °C", Published},

	{"hull", "mass", "1x", 14, "kg", none, none, minimumMass, Published},
	{"hull", "mass", "2x", 27, "kg", none, none, minimumMass, Published},
	{"hull", "mass", "2-", 27, "kg", none, none, minimumMass, Published},
	{"hull", "mass", "2+", 32, "kg", none, none, minimumMass, Published},
	{"hull", "mass", "4x", 52, "kg", none, none, minimumMass, Published},
	{"hull", "mass", "4-", 50, "kg", none, none, minimumMass, Published},
	{"hull", "mass", "4+", 51, "kg", none, none, minimumMass, Published},
	{"hull", "mass", "8+", 96, "kg", none, none, minimumMass, Published},
	{"hull", "waterline", "1x", 8.0, "m", none, none, lazauskas, Published},
	{"hull", "waterline", "2x", 10.25, "m", none, none, lazauskas, Published},
	{"hull", "waterline", "2-", 10.25, "m", none, none, lazauskas, Published},
	{"hull", "waterline", "2+", 10.25, "m", none, none, lazauskas, Published},
	{"hull", "waterline", "4x", 12.0, "m", none, none, lazauskas, Published},
	{"hull", "waterline", "4-", 12.0, "m", none, none, lazauskas, Published},
	{"hull", "waterline", "4+", 12.0, "m", none, none, lazauskas, Published},
	{"hull", "waterline", "8+", 17.12, "m", none, none, lazauskas, Published},
	{"hull", "form_factor", "", 0.13, "", none, none, "Scragg & Nelson 1993, quoted by Tuck & Lazauskas 1996",
		Quoted},
	{"hull", "body_area", "", 0.467, "m²", 0.40, 0.62, bodies, Derived},
	{"hull", "sheltered_area", "", 0.25, "m²", 0.15, 0.40, "of each rower behind the first, a guess, for " +
		"the shelter is not measured", DerivedLow},
	{"hull", "transition", "", 0, "", 0, 3e6, "turbulent from the bow; where the flow of a racing hull " +
		"turns nobody has measured (Prandtl's rule, textbooks on boundary layers)", Derived},
	{"plain hull", "wave_factor", "", 0.065, "", none, none, "of friction, where waves are not computed: " +
		"Scragg & Nelson 1993, quoted by Tuck & Lazauskas 1996 (wave 6 % of the total)", Quoted},
	{"hull", "class_factor", "1x", 1, "", 0.95, 1.05, ratios, Derived},
	{"hull", "class_factor", "2x", 1.05, "", 1.00, 1.10, ratios, Derived},
	{"hull", "class_factor", "2-", 1.10, "", 1.05, 1.15, ratios, Derived},
	{"hull", "class_factor", "2+", 1.10, "", 1.05, 1.15, ratios + ", taken from 2-", Derived},
	{"hull", "class_factor", "4x", 1.10, "", 1.05, 1.15, ratios, Derived},
	{"hull", "class_factor", "4-", 1.14, "", 1.09, 1.19, ratios, Derived},
	{"hull", "class_factor", "4+", 1.14, "", 1.09, 1.19, ratios + ", taken from 4-", Derived},
	{"hull", "class_factor", "8+", 1.20, "", 1.15, 1.25, ratios, Derived},
	{"plain hull", "air_area", "1x", 0.62, "m²", 0.62 * 0.6, 0.62 * 1.4, stillAir, Derived},
	{"plain hull", "air_area", "2x", 0.95, "m²", 0.95 * 0.6, 0.95 * 1.4, stillAir, Derived},
	{"plain hull", "air_area", "2-", 0.95, "m²", 0.95 * 0.6, 0.95 * 1.4, stillAir, Derived},
	{"plain hull", "air_area", "2+", 1.1, "m²", 1.1 * 0.6, 1.1 * 1.4, stillAir, Derived},
	{"plain hull", "air_area", "4x", 1.5, "m²", 1.5 * 0.6, 1.5 * 1.4, stillAir, Derived},
	{"plain hull", "air_area", "4-", 1.5, "m²", 1.5 * 0.6, 1.5 * 1.4, stillAir, Derived},
	{"plain hull", "air_area", "4+", 1.5, "m²", 1.5 * 0.6, 1.5 * 1.4, stillAir, Derived},
	{"plain hull", "air_area", "8+", 2.3, "m²", 2.3 * 0.6, 2.3 * 1.4, stillAir, Derived},
	{"hull", "seat_over_water", "1x", 11, "cm", 8, 14, seatOverWater, MemoryLow},
	{"hull", "seat_over_water", "2x", 11, "cm", 8, 14, seatOverWater, MemoryLow},
	{"hull", "seat_over_water", "2-", 11, "cm", 8, 14, seatOverWater, MemoryLow},
	{"hull", "seat_over_water", "2+", 11, "cm", 8, 14, seatOverWater, MemoryLow},
	{"hull", "seat_over_water", "4x", 12, "cm", 9, 15, seatOverWater, MemoryLow},
	{"hull", "seat_over_water", "4-", 12, "cm", 9, 15, seatOverWater, MemoryLow},
	{"hull", "seat_over_water", "4+", 12, "cm", 9, 15, seatOverWater, MemoryLow},
	{"hull", "seat_over_water", "8+", 13, "cm", 10, 16, seatOverWater, MemoryLow},

	{"blade", "area", "scull hatchet", 820, "cm²", 780, 850, "from memory (0.078-0.085 m²)", Memory},
	{"blade", "area", "sweep hatchet", 1250, "cm²", none, none,
		"Baudouin & Hawkins 2002, table 1: 25 x 55 cm bounding box; planform from memory", Memory},
	{"blade", "area", "scull tulip", 680, "cm²", none, none, "from memory", MemoryLow},
	{"blade", "area", "sweep tulip", 1030, "cm²", none, none, "from memory", MemoryLow},
	{"blade", "length", "scull hatchet", 46, "cm", none, none, "from memory", Memory},
	{"blade", "length", "sweep hatchet", 55, "cm", none, none, "Baudouin & Hawkins 2002, table 1", Published},
	{"blade", "length", "scull tulip", 54, "cm", none, none, "from memory", MemoryLow},
	{"blade", "length", "sweep tulip", 61, "cm", none, none, "from memory", MemoryLow},
	{"blade", "drag", "scull hatchet", 2.07, "", 1.2, 2.1, caplan, Quoted},
	{"blade", "drag", "sweep hatchet", 2.07, "", 1.2, 2.1, caplan, Quoted},
	{"blade", "drag", "scull tulip", 1.90, "", 1.2, 2.1, "from memory; hatchets: " + caplan, Memory},
	{"blade", "drag", "sweep tulip", 1.90, "", 1.2, 2.1, "from memory; hatchets: " + caplan, Memory},
	{"blade", "grip", "", 1, "", none, none, "a flat plate of its size", Derived},
	{"blade", "early", "", 0, "", none, none, "force normal to the plate: Ortiz, Rival & Wood 2015",
		Published},
	{"blade", "added_mass", "", 0.5, "", 0, 1, "a blade at the surface pushes about half the water; factor " +
		"by length/width from DNV-RP-C205 (deep water, from memory, high)", Derived},
	{"blade", "along", "", 0, "", 0, 0.033, "plain friction is about 0.01; 0.033 gives the 18 % more loss " +
		"that Hofmijster et al. 2010 are quoted with", Quoted},
	{"blade", "bury", "", 6, "deg", 3, 10, "from memory; 3 deg is worth about 1 cm of oar (derived)", Memory},
	{"blade", "release", "", 10, "deg", none, none, "from memory", Memory},
	{"blade", "strips", "", 5, "", none, none, "5, 9 and 17 strips agree to 1e-6 in speed", Derived},

	{"oar", "mass", "scull", 1.45, "kg", none, none, "from memory", Memory},
	{"oar", "mass", "sweep", 2.5, "kg", none, none, "from memory", Memory},
	{"oar", "hand", "scull", 6, "cm", none, none, practice, Practice},
	{"oar", "hand", "sweep", 15, "cm", none, none, practice + ": mean of both hands", Practice},
	{"oar", "gate", "", 4, "cm", none, none, survey, Published},
	{"oar", "diameter", "scull", 4.0, "cm", 3.6, 4.4, "of the shaft in the air: a guess", MemoryLow},
	{"oar", "diameter", "sweep", 5.0, "cm", none, none,
		"of the shaft in the air: Baudouin & Hawkins 2004, table 1", Published},
	{"oar", "damping", "", 0.05, "", none, none, "fraction of critical at the shaft (zeta of the model)",
		Derived},

	{"rower", "catch", "scull", 62, "deg", none, none, "arc about 105 deg: federation handbooks", Published},
	{"rower", "finish", "scull", 43, "deg", none, none, "arc about 105 deg: federation handbooks", Published},
	{"rower", "catch", "sweep", 56, "deg", none, none, "arc about 90 deg: federation handbooks", Published},
	{"rower", "finish", "sweep", 34, "deg", none, none, "arc about 90 deg: federation handbooks", Published},
	{"rower", "free_speed", "", 4.5, "m/s", 3.8, 6.7, "linear force-velocity; peak handle speed 3.80 m/s " +
		"men, 2.90 women on a braked ergometer; optimum 3.35 m/s on an inertial one (Sprague 2007) " +
		"implies 6.7", DerivedLow},
	{"rower", "body_travel", "", 0.122, "m^⅓", 0.115, 0.165, "times mass^⅓; so that moving the body in a " +
		"single costs the 27.4 W at 20/min and 44.3 W at 32/min of Hofmijster et al. 2018", Derived},
	{"rower", "start_force", "", 0.05, "", none, none,
		"30 % of peak force 2.8-3.5 deg and 60-90 ms after the turn", Derived},
	{"crew", "squaring", "", 0.2, "", 0.1, 0.4, practice + ": the blade is squared for the last fifth of " +
		"the recovery", Practice},
	{"crew", "cox", "", 55, "kg", none, none, minimumMass, Published},

	{"rig", "overlap", "scull", 20, "cm", none, none, "two scull inboards = span + 16 cm, gates left out " +
		"(Nolte 2023; federation handbooks)", Published},
	{"rig", "overlap", "sweep", 32, "cm", none, none, "inboard = spread + 30 cm, gate left out (Nolte " +
		"2023; federation handbooks)", Published},
	{"rig", "clear", "", 5, "cm", none, none, practice, Practice},
	{"rig", "hands_room", "", 15, "cm", none, none, practice, Practice},
	{"rig", "seat_spacing", "", 1.4, "m", none, none, practice, Practice},
	{"rig", "spread", "", 0.85, "m", none, none, practice, Practice},
}

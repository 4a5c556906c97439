package sources

// trials are the sources about comparing crews and pieces on the water.
var trials = []Source{
	{
		Key: "Smith & Hopkins 2011", Authors: "Smith & Hopkins", Year: 2011, In: "MSSE", Volume: "43",
		Pages: "2155–2160", Read: Partly,
		For: "how much race times vary; the smallest change that matters",
	},
	{
		Key: "Smith & Hopkins 2012", Authors: "Smith & Hopkins", Year: 2012, Read: Partly,
		For: "how well watches that know their place measure a distance",
	},
	{
		Key: "Fisher & Yates 1963", Authors: "Fisher & Yates", Year: 1963, In: "Statistical Tables",
		Read: Partly,
		For:  "printed points of Student's t and of F",
	},
	{
		Key: "Lenth 1989", Authors: "Lenth", Year: 1989, In: "Applied Statistics", Volume: "38",
		Pages: "185–189", Read: Textbook,
		For: "the non-central t distribution",
	},
	{
		Key: "Cook & Weisberg 1982", Authors: "Cook & Weisberg", Year: 1982, In: "Residuals and Influence",
		Pages: "§ 2.2.2", Read: Textbook,
		For: "telling a piece that stands out from its fit",
	},
	{
		Key: "Marquardt 1970", Authors: "Marquardt", Year: 1970, In: "Technometrics", Volume: "12",
		Pages: "591–612", Read: Textbook,
		For: "inputs that cannot be told apart",
	},
	{
		Key: "Cleveland 1979", Authors: "Cleveland", Year: 1979,
		In: "Journal of the American Statistical Association", Volume: "74", Pages: "829–836", Read: Textbook,
		For: "local regression of a track",
	},
	{
		Key: "Vincenty 1975", Authors: "Vincenty", Year: 1975, In: "Survey Review", Volume: "23(176)",
		Pages: "88–93", Read: Textbook,
		For: "distances between places on the earth",
	},
	{
		Key: "Student 1908", Authors: "Student", Year: 1908, In: "Biometrika", Volume: "6", Pages: "1–25",
		Read: Partly,
		For:  "a worked t test",
	},
	{
		Key: "Cohen 1988", Authors: "Cohen", Year: 1988, In: "Statistical Power Analysis, table 2.3.5",
		Read: Memory,
		For:  "power of a two-sample t test, from memory, high",
	},
	{
		Key: "NIST reference datasets", In: "Statistical Reference Datasets, Longley and Misra1a",
		Read: Partly,
		For:  "certified fits, linear and not",
	},
	{
		Key: "Longley 1967", Authors: "Longley", Year: 1967,
		In: "Journal of the American Statistical Association", Volume: "62", Pages: "819–841", Read: Quoted,
		For: "sixteen years of six predictors that nearly depend on one another",
	},
	{
		Key: "datum of Australia", In: "Geocentric Datum of Australia, technical manual", Read: Partly,
		For: "a worked distance on the earth",
	},
	{
		Key: "Rousseeuw & Croux 1993", Authors: "Rousseeuw & Croux", Year: 1993, Read: Textbook,
		For: "a scatter that one wild number does not move",
	},
}

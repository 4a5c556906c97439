package sources

// methods are the sources of the numerical methods.
var methods = []Source{
	{
		Key: "Dormand & Prince 1980", Authors: "Dormand & Prince", Year: 1980, Read: Textbook,
		For: "the adaptive pair of orders five and four",
	},
	{
		Key: "Hairer, Nørsett & Wanner 1993", Authors: "Hairer, Nørsett & Wanner", Year: 1993,
		In: "Solving Ordinary Differential Equations I, 2nd ed.", Read: Textbook,
		For: "step control and dense output; the pair of order eight",
	},
	{
		Key: "Brent 1973", Authors: "Brent", Year: 1973, Read: Textbook,
		For: "roots (ch. 4) and minima (ch. 5) without slopes",
	},
	{
		Key: "Broyden 1965", Authors: "Broyden", Year: 1965,
		In: "Mathematics of Computation", Volume: "19", Pages: "577–593", Read: Textbook,
		For: "roots of several equations from slopes kept up to date",
	},
	{
		Key: "Fritsch & Carlson 1980", Authors: "Fritsch & Carlson", Year: 1980, Read: Textbook,
		For: "a cubic through points that keeps rises and falls",
	},
	{
		Key: "Fritsch & Butland 1984", Authors: "Fritsch & Butland", Year: 1984, Read: Textbook,
		For: "the slopes of that cubic",
	},
	{
		Key: "Owen 2017", Authors: "Owen", Year: 2017, In: "arXiv", Pages: "1706.02808", Read: Textbook,
		For: "scrambled points that fill a box evenly",
	},
	{
		Key: "Hyndman & Fan 1996", Authors: "Hyndman & Fan", Year: 1996,
		In: "The American Statistician", Volume: "50", Pages: "361–365", Read: Textbook,
		For: "quantiles of a sample, definition 8",
	},
	{
		Key: "Nocedal & Wright 2006", Authors: "Nocedal & Wright", Year: 2006, In: "algorithm 17.4",
		Read: Textbook,
		For:  "limits in a search for the best",
	},
	{
		Key: "Conn, Gould & Toint 2000", Authors: "Conn, Gould & Toint", Year: 2000, In: "ch. 6",
		Read: Textbook,
		For:  "a search that trusts its model within a box",
	},
	{
		Key: "Rosenbrock 1960", Authors: "Rosenbrock", Year: 1960, In: "Computer Journal", Volume: "3",
		Pages: "175", Read: Textbook,
		For: "a curved valley to try searches on",
	},
	{
		Key: "Kuhn 1955", Authors: "Kuhn", Year: 1955, Read: Textbook,
		For: "giving each want its piece at the least sum",
	},
	{
		Key: "Murty 1968", Authors: "Murty", Year: 1968, In: "Operations Research", Volume: "16",
		Pages: "682–687", Read: Textbook,
		For: "the second best of such a giving out",
	},
	{
		Key: "Jonker & Volgenant 1987", Authors: "Jonker & Volgenant", Year: 1987,
		In: "Computing", Volume: "38", Pages: "325–340", Read: Textbook,
		For: "the same by shortest paths",
	},
	{
		Key: "Neumaier 1974", Authors: "Neumaier", Year: 1974, Read: Textbook,
		For: "a sum that carries what rounding lost",
	},
	{
		Key: "Liang & Barsky 1984", Authors: "Liang & Barsky", Year: 1984, Read: Textbook,
		For: "whether a line crosses a box, for placing names in a drawing",
	},
	{
		Key: "Douglas & Peucker 1973", Authors: "Douglas & Peucker", Year: 1973, Read: Textbook,
		For: "a line drawn with fewer points",
	},
}

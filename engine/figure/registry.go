package figure

// Kinds are all kinds of figure. A new kind is its own file and a line here.
var Kinds []*Kind

// The list is made when the program starts and not where it is declared, because
// the records' functions look other kinds up in it.
func init() {
	Kinds = []*Kind{
		linesKind,
		curvesKind,
		barsKind,
		pathsKind,
		heatKind,
		whiskerKind,
		swingKind,
		movingKind,
		piecesKind,
		rigKind,
		weighingKind,
	}
}

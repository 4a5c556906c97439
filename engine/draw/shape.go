package draw

// Picture is a figure as shapes on a plane, x to the right and y downward, for
// whoever draws it elsewhere than on a page. It is the very drawing of the page,
// so that both show the same.
type Picture struct {
	Width, Height float64
	Title         string // names it
	Description   string // in words, made from the data
	Shapes        []Shape
}

// ShapeKind says which fields of a shape are in use.
type ShapeKind uint8

const (
	Outline   ShapeKind = iota // Path, in SVG's letters M L H V Z l
	Rectangle                  // X, Y, W, H
	Disc                       // X, Y, R
	Words                      // X, Y on the base line, Text
)

// Shape is one stroke of the pen. Class holds the roles it plays, apart by
// blanks, as the page's style names them: "ln s1" a line of series 1, "hair" a
// rule of the grid, "mid" a text centred on its place.
type Shape struct {
	Kind       ShapeKind
	Class      string
	X, Y, W, H float64
	R          float64
	Path       string
	Text       string
	Opacity    float64
}

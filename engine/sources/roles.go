package sources

// Role says what a number of a source is to the model.
type Role string

// A number that we derived or expected ourselves has no place here: it is held
// by a test of the package that computes it.
const (
	Independent Role = "independent" // nothing here was set by it
	Fitted      Role = "fitted"      // a default was set so that it is met
	SignOnly    Role = "sign only"   // a direction or a rough size
	Statement   Role = "statement"   // said in general, not a result of the text
	Input       Role = "input"       // a default or a constant of the model
)

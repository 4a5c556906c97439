// Package engine knows which engine this is: a mark made from the numbers it gives.
package engine

import (
	_ "embed"
	"strings"
)

// The digest of the reference strokes (engine/reference), written by go generate. It is
// a file and not worked out when asked, so that a program starts at once; a test rows
// the strokes again and fails where they give another.
//
//go:generate go test ./reference -run TestFingerprint -update
//go:embed fingerprint.txt
var fingerprint string

// Fingerprint gives the engine's mark: "n" for numbers and sixteen characters made from
// every number of the reference strokes, to the last bit. Two engines with one mark give
// the same numbers; rewording a comment leaves it, a coefficient moves it.
func Fingerprint() string { return strings.TrimSpace(fingerprint) }

// OfNumbers says whether a mark is made of numbers. Records of earlier versions carry one
// made from the engine's text, which said when a comment changed and not what that did.
func OfNumbers(mark string) bool { return strings.HasPrefix(mark, "n") && len(mark) == 17 }

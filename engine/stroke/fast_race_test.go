//go:build race

package stroke

const raceDetector = true

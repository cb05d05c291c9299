//go:build !race

package sheet

const raceDetector = false

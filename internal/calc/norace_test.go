//go:build !race

package calc

const raceDetector = false

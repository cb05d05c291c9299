//go:build !race

package evaluate

const raceDetector = false

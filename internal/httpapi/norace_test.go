//go:build !race

package httpapi

// raceDetector says that the race detector is built in.
const raceDetector = false

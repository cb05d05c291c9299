//go:build race

package evaluate

// raceDetector says that the race detector is built in, which allocates for itself and drops what pools hold.
const raceDetector = true

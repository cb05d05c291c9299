//go:build race

package streams

// raceDetector says that the race detector is built in, with which everything takes long.
const raceDetector = true

//go:build !race

package streams

const raceDetector = false

//go:build race

package input

// raceDetector says that this test binary is many times slower than usual.
const raceDetector = true

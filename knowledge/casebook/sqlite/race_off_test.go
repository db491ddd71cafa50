//go:build !race

package sqlite

const raceDetector = false

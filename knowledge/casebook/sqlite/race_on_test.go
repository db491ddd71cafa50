//go:build race

package sqlite

const raceDetector = true

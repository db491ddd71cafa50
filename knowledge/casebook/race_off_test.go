//go:build !race

package casebook

const raceDetector = false

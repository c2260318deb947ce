//go:build !race

package session_test

const raceDetector = false

//go:build race

package circuit

func init() { racing = true }

// Command powerup takes a restored mains valve set through its first power-up.
package main

import (
	"os"

	_ "example.com/powerup/internal/earlyterm" // must stay the first thing the terminal hears of
)

func main() {
	os.Exit(run(world{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, args: os.Args[1:], started: startedBy(os.Args[0]), clock: newWallClock(),
	}))
}

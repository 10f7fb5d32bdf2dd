package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"time"
)

func main() {
	// A run is short and small: collecting rarely saves a tenth of its time.
	debug.SetGCPercent(400)
	// Where there is much to read, it is not to take more memory than that.
	debug.SetMemoryLimit(256 << 20)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second Ctrl-C waits for nothing
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr, os.Getenv, time.Now))
}

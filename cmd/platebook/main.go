// Command platebook turns one workbook of a tank floor inspection into checked
// findings, calculated results, a report and a floor plan.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	waitIfOwnWindow(os.Stdin, os.Stderr)
	os.Exit(code)
}

// Command platebook turns one workbook of a tank floor inspection into checked
// findings, calculated results, a report and a floor plan.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"

	"platebook/workbook/save"
)

func main() {
	largePages()
	collectSeldom()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	ended := make(chan struct{})
	go func() {
		<-ctx.Done()
		select {
		case <-ended:
		case <-time.After(patience):
			save.Abandon()
			os.Stderr.WriteString(interrupted + "\n")
			os.Exit(exitInterrupted)
		}
	}()
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	close(ended)
	stop()
	waitIfOwnWindow(os.Stdin, os.Stderr)
	os.Exit(code)
}

// patience is how long an interrupted program may take to come to its end: a
// page or a report is set as a whole, and a file is renamed when it is whole.
const patience = time.Second

const interrupted = "platebook: interrupted; files finished so far are whole, nothing else was left behind"

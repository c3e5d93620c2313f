package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"unspool/folder"
)

// console is where a command reads and writes. Results go to Stdout, so that it
// stays clean for pipes; what is said about them goes to Stderr.
type console struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
}

// Exit statuses of all commands.
const (
	exitGood     = 0
	exitFindings = 1   // findings that stop the run
	exitWrong    = 2   // the command or its input is wrong
	exitMachine  = 3   // the machine failed: disk, network
	exitStopped  = 130 // stopped from the keyboard, as shells write it
)

// errFindings says that the command did its work and that what it found, which
// is already on Stderr, stops the run.
var errFindings = errors.New("findings")

// report says what an error means, once and in one place, and gives the exit
// status.
func (c *console) report(err error) int {
	switch {
	case err == nil:
		return exitGood
	case errors.Is(err, errFindings):
		return exitFindings
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(c.Stderr, "unspool: stopped; nothing was written")
		return exitStopped
	}
	fmt.Fprintf(c.Stderr, "unspool: %v\n", err)
	if errors.Is(err, folder.ErrMachine) {
		return exitMachine
	}
	return exitWrong
}

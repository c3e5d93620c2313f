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

// checked is standard output that keeps its first error, for what is printed line
// by line.
type checked struct {
	io.Writer
	err error
}

func (c *checked) Write(p []byte) (int, error) {
	if c.err != nil {
		return 0, c.err
	}
	n, err := c.Writer.Write(p)
	if err != nil {
		c.err = folder.Machine(fmt.Errorf("cannot print: %w; see to where the output goes", err))
	}
	return n, c.err
}

// Exit statuses of all commands.
const (
	exitGood     = 0
	exitFindings = 1   // findings that stop the run
	exitWrong    = 2   // the command or its input is wrong
	exitMachine  = 3   // the machine failed: disk, permissions
	exitStopped  = 130 // stopped from the keyboard, as shells write it
)

// errFindings says that the command did its work and that what it found, which
// is already on Stderr, stops the run.
var errFindings = errors.New("findings")

// errHalfway says that a command was stopped which writes file by file.
var errHalfway = errors.New("stopped; the files written so far are whole, and running again goes on from there")

// report says what an error means, once and in one place, and gives the exit
// status.
func (c *console) report(err error) int {
	switch {
	case err == nil:
		return exitGood
	case errors.Is(err, errFindings):
		return exitFindings
	case errors.Is(err, errHalfway):
		fmt.Fprintf(c.Stderr, "unspool: %v\n", errHalfway)
		return exitStopped
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

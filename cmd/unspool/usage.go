package main

import (
	"errors"
	"fmt"

	"github.com/alecthomas/kong"
)

// asked turns the words "help" and "help COMMAND", which people try first, into
// the flag.
func asked(args []string) []string {
	if len(args) > 0 && args[0] == "help" {
		return append(args[1:len(args):len(args)], "--help")
	}
	return args
}

// misused says where a command line that cannot be read is explained.
func misused(err error) error {
	var p *kong.ParseError
	if !errors.As(err, &p) {
		return err
	}
	of := "unspool"
	if n := p.Context.Selected(); n != nil {
		of += " " + n.Name
	}
	return fmt.Errorf("%w; see %s --help", err, of)
}

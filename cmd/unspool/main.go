// Command unspool proves a run of ID cards before a card is wasted.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/alecthomas/kong"
)

// commands are what unspool can be told to do.
type commands struct {
	Version kong.VersionFlag `help:"Say which build this is."`

	Demo   demoCmd   `cmd:"" help:"Write the Sundhaven demo programme and prove it in three set-ups."`
	Proof  proofCmd  `cmd:"" help:"Prove a programme: panels, ribbon, lights, readers, findings."`
	Serve  serveCmd  `cmd:"" help:"Show a programme in a browser: by light, by ribbon, by reader."`
	Grade  gradeCmd  `cmd:"" help:"Find, read and grade the bar codes in a picture of a real card."`
	Symbol symbolCmd `cmd:"" help:"Draw one bar code in whole dots, or say what it would be."`
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // told twice, end at once
	os.Exit(run(ctx, os.Args[1:], &console{os.Stdin, os.Stdout, os.Stderr}))
}

// run does what the arguments say and gives the exit status.
func run(ctx context.Context, args []string, c *console) int {
	out := &checked{Writer: c.Stdout}
	c = &console{c.Stdin, out, c.Stderr}
	status := do(ctx, args, c)
	if out.err != nil && status < exitWrong {
		return c.report(out.err)
	}
	return status
}

func do(ctx context.Context, args []string, c *console) int {
	var cli commands
	helped := false
	build, _ := debug.ReadBuildInfo()
	parser, err := kong.New(&cli,
		kong.Name("unspool"),
		kong.Description("Proves a run of ID cards before a card is wasted."),
		kong.Writers(c.Stdout, c.Stderr),
		kong.Exit(func(int) { helped = true }),
		kong.Vars{"kinds": kindNames(), "acceptances": acceptanceNames(), "version": version(build)},
		kong.Bind(c),
		kong.BindTo(ctx, (*context.Context)(nil)),
	)
	if err != nil {
		return c.report(err)
	}
	parser.Model.HelpFlag.Help = "Show this help."
	chosen, err := parser.Parse(asked(args))
	if helped {
		return exitGood
	}
	if err != nil {
		return c.report(misused(err))
	}
	return c.report(chosen.Run())
}

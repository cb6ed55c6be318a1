package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
)

// helpFirst puts the examples ahead of everything else in a command's help.
func helpFirst(c *cobra.Command) {
	c.Long = show.Narrow(c.Long)
	c.SetHelpTemplate(`{{with (or .Long .Short)}}{{. | trimTrailingWhitespaces}}

{{end}}{{if .HasExample}}{{.Example}}

{{end}}{{if or .Runnable .HasSubCommands}}{{.UsageString}}{{end}}`)
	c.SetUsageTemplate(`use: {{.UseLine}}{{if .HasAvailableSubCommands}}

commands:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}{{end}}{{if .HasAvailableLocalFlags}}

flags:
{{.LocalFlags.FlagUsagesWrapped 100 | trimTrailingWhitespaces}}{{end}}{{if .HasAvailableInheritedFlags}}

flags of every command:
{{.InheritedFlags.FlagUsagesWrapped 100 | trimTrailingWhitespaces}}{{end}}
`)
}

// helpOn is the command that shows the help of another.
func helpOn() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "The help of a command",
		RunE: func(c *cobra.Command, given []string) error {
			found, rest, err := c.Root().Find(given)
			if err != nil || found == c.Root() && len(given) > 0 || len(rest) > 0 {
				return noCommand(c.Root(), given)
			}
			return found.Help()
		},
	}
}

package cli

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
)

// helpTemplate shows the examples before the text.
const helpTemplate = `{{if .IsAdditionalHelpTopicCommand}}{{trimTrailingWhitespaces .Long}}
{{else}}{{.Short}}.

Examples:
{{.Example}}
{{with .Long}}
{{.}}
{{end}}
Usage:
{{if .HasParent}}  {{.UseLine}}
{{end}}{{if .HasAvailableSubCommands}}  {{.CommandPath}} COMMAND
{{end}}{{$command := .}}{{range .Groups}}{{$group := .}}
{{.Title}}
{{range $command.Commands}}{{if and (eq .GroupID $group.ID) (or .IsAvailableCommand (eq .Name "help"))}}  {{rpad .Name .NamePadding}}  {{.Short}}
{{end}}{{end}}{{end}}{{if .HasHelpSubCommands}}
Topics (panecore help TOPIC):
{{range .Commands}}{{if .IsAdditionalHelpTopicCommand}}  {{rpad .Name .NamePadding}}  {{.Short}}
{{end}}{{end}}{{end}}{{if .HasAvailableLocalFlags}}
Flags:
{{.LocalFlags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}{{if .HasAvailableInheritedFlags}}
Flags of every command:
{{.InheritedFlags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}{{end}}`

func newHelpCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND|TOPIC]",
		GroupID: shell.GroupProgram,
		Short:   "Explain a command or a topic",
		Example: `  panecore help interpret
  panecore help logbook`,
		RunE: func(cmd *cobra.Command, args []string) error {
			explained, rest, err := cmd.Root().Find(args)
			if err != nil {
				return err
			}
			if len(rest) > 0 {
				return shell.UnknownCommand(explained, rest[0])
			}
			explained.InitDefaultHelpFlag()
			return explained.Help()
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			return topicNames(cmd.Root(), args), cobra.ShellCompDirectiveNoFileComp
		},
	}
}

// topicNames completes the words typed so far with what help explains.
func topicNames(root *cobra.Command, words []string) []string {
	explained, _, err := root.Find(words)
	if err != nil {
		return nil
	}
	var names []string
	for _, cmd := range explained.Commands() {
		if !cmd.Hidden {
			names = append(names, cmd.Name()+"\t"+cmd.Short)
		}
	}
	return names
}

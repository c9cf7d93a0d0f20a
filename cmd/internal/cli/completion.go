package cli

import (
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
)

func newCompletionCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:     "completion bash|zsh|fish|powershell",
		GroupID: shell.GroupProgram,
		Short:   "Print the script by which a shell completes commands and flags",
		Example: `  source <(panecore completion bash)
  panecore completion zsh > "${fpath[1]}/_panecore"
  panecore completion fish > ~/.config/fish/completions/panecore.fish
  panecore completion powershell | Out-String | Invoke-Expression`,
		ValidArgs: []string{"bash", "zsh", "fish", "powershell"},
		Args:      shell.OneArgument("bash, zsh, fish or powershell"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCompletion(cmd, s.Out, args[0])
		},
	}
}

func runCompletion(cmd *cobra.Command, out io.Writer, name string) error {
	root := cmd.Root()
	switch name {
	case "bash":
		return root.GenBashCompletionV2(out, true)
	case "zsh":
		return root.GenZshCompletion(out)
	case "fish":
		return root.GenFishCompletion(out, true)
	case "powershell":
		return root.GenPowerShellCompletionWithDesc(out)
	}
	return shell.BadUsage(cmd, "found shell %q, want bash, zsh, fish or powershell", name)
}

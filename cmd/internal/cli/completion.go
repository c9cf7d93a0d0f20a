package cli

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
)

func newCompletionCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:     "completion bash|zsh|fish|powershell",
		GroupID: shell.GroupProgram,
		Short:   "Print the script that lets a shell complete commands and flags",
		Example: `  source <(panecore completion bash)
  panecore completion zsh > "${fpath[1]}/_panecore"
  panecore completion fish > ~/.config/fish/completions/panecore.fish
  panecore completion powershell | Out-String | Invoke-Expression`,
		ValidArgs: []string{"bash", "zsh", "fish", "powershell"},
		Args:      shell.OneArgument("bash, zsh, fish or powershell"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch root := cmd.Root(); args[0] {
			case "bash":
				return root.GenBashCompletionV2(s.Out, true)
			case "zsh":
				return root.GenZshCompletion(s.Out)
			case "fish":
				return root.GenFishCompletion(s.Out, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(s.Out)
			}
			return shell.BadUsage(cmd, "found shell %q, want bash, zsh, fish or powershell", args[0])
		},
	}
}

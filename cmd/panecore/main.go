// Command panecore reads the side view of an aquarium bed and says whether to leave it, stir it or
// siphon it.
package main

import (
	"context"
	"os"

	"panecore/cmd/internal/cli"
	"panecore/cmd/internal/shell"
)

func main() { os.Exit(cli.Run(context.Background(), shell.System(), os.Args[1:])) }

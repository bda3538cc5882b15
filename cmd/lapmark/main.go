// Command lapmark keeps the repair and warranty ledgers of a coach-roof shop.
package main

import (
	"os"

	"lapmark/cmd/internal/cli"
)

func main() { os.Exit(cli.Main(os.Args[1:])) }

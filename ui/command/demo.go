package command

import "github.com/spf13/cobra"

func (p *Program) demoCommand() *cobra.Command { return &cobra.Command{Use: "demo"} }
func (p *Program) showCommand() *cobra.Command { return &cobra.Command{Use: "show"} }

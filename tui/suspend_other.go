//go:build !unix

package tui

func (s *signals) canSuspend() error { return errNoShell }

func (s *signals) stopAndWait() error { return errNoShell }

package store

import (
	"io/fs"
	"os"
	"syscall"
)

// syncDir does nothing: a folder cannot be flushed here, and the file system keeps a journal.
func syncDir(string) error { return nil }

func mayReplace(string, fs.FileInfo) bool { return true }

// keepOwner does nothing: a new file takes its rights from the folder.
func keepOwner(*os.File, fs.FileInfo) {}

// systemFolder returns the folder for programs that a variable names.
func systemFolder(variable string) string { return os.Getenv(variable) }

// alive tells whether a process exists on this computer.
func alive(pid int) bool {
	const waitTimeout = 258
	h, err := syscall.OpenProcess(syscall.SYNCHRONIZE, false, uint32(pid))
	if err != nil {
		return err == syscall.ERROR_ACCESS_DENIED
	}
	defer syscall.CloseHandle(h)
	event, err := syscall.WaitForSingleObject(h, 0)
	return err == nil && event == waitTimeout
}

package main

import (
	"fmt"
	"os"

	"example.org/skywedge/plan/store"
)

// writeOutput writes a picture or a sheet. What is no plain file (a pipe, a device) is written to as it is.
func writeOutput(path string, data []byte) error {
	st, err := os.Stat(path)
	switch {
	case err == nil && st.IsDir():
		return fmt.Errorf("%s is a folder: give -o the name of a file", path)
	case err == nil && !st.Mode().IsRegular():
		return os.WriteFile(path, data, 0o666)
	}
	return store.Replace(path, data)
}

package store

import "os"

const greetedFile = "greeted"

// FirstStart tells whether this program was never started for this user before: nothing of it is in the state folder.
// It must be asked before anything is opened, since that leaves its traces there. It is told once: that it was is
// remembered, so that an error of the disk at worst repeats it.
func FirstStart() bool {
	dir, err := StateDir()
	if err != nil {
		return false
	}
	list, err := os.ReadDir(dir)
	if err != nil && !os.IsNotExist(err) || len(list) > 0 {
		return false
	}
	if file, err := stateFile("", greetedFile); err == nil {
		_ = save(file, nil, 0o600, false) // nothing is lost without it
	}
	return true
}

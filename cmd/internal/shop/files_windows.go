package shop

// isInvalid says whether a file system cannot sync a folder: Windows opens no
// folder for writing, and keeps its own journal.
func isInvalid(error) bool { return true }

package shop

import "strings"

// NetworkDrive names the file system of a folder where it is one of another
// machine, "" where it is not or cannot be told. SQLite leans on locks and on
// syncing, and over a network neither can be relied on (sqlite.org, "SQLite
// Over a Network, Caveats and Considerations").
func NetworkDrive(folder string) string { return networkDrive(folder) }

// networkFuse are the file systems in user space that lie on another machine,
// by their type in a list of mounts. Common practice, no source.
var networkFuse = []string{
	"fuse.sshfs", "fuse.rclone", "fuse.davfs2", "fuse.smbnetfs", "fuse.curlftpfs", "fuse.s3fs", "fuse.glusterfs", "fuse.gvfsd-fuse",
}

// mountedAs is the type of the file system on which an absolute path lies, by
// the text of /proc/self/mountinfo: the mount point is its fifth field, the
// type the first behind the hyphen (proc_pid_mountinfo(5), from memory).
func mountedAs(mounts, path string) string {
	longest, kind := -1, ""
	for line := range strings.Lines(mounts) {
		front, back, cut := strings.Cut(line, " - ")
		fields, types := strings.Fields(front), strings.Fields(back)
		if !cut || len(fields) < 5 || len(types) < 1 {
			continue
		}
		point := unescaped.Replace(fields[4])
		if len(point) >= longest && under(path, point) {
			longest, kind = len(point), types[0]
		}
	}
	return kind
}

// unescaped undoes how a mount point is written there.
var unescaped = strings.NewReplacer(`\040`, " ", `\011`, "\t", `\012`, "\n", `\134`, `\`)

func under(path, point string) bool {
	rest, ok := strings.CutPrefix(path, strings.TrimSuffix(point, "/"))
	return ok && (rest == "" || rest[0] == '/')
}

// isUNC says whether a Windows path names another machine: \\server\share, or
// the same in its long form.
func isUNC(path string) bool {
	path = strings.ToUpper(strings.ReplaceAll(path, "/", `\`))
	if long, ok := strings.CutPrefix(path, `\\?\`); ok {
		return strings.HasPrefix(long, `UNC\`)
	}
	return strings.HasPrefix(path, `\\`) && !strings.HasPrefix(path, `\\.\`)
}

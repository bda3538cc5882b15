package shop

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The numbers as statfs(2) lists them (Linux man-pages 6.x, from memory).
func TestNetworkTypes(t *testing.T) {
	for number, name := range map[uint32]string{
		0x6969: "nfs", 0xff534d42: "cifs", 0xfe534d42: "smb2", 0x517b: "smb", // NFS_, CIFS_, SMB2_, SMB_SUPER_MAGIC
		0xef53: "", 0x01021994: "", 0x9123683e: "", 0x58465342: "", // EXT4_, TMPFS_, BTRFS_, XFS_SUPER_MAGIC
	} {
		require.Equal(t, name, networkTypes[number], "%#x", number)
	}
	require.Empty(t, NetworkDrive(t.TempDir()))
	require.Empty(t, NetworkDrive("/no such folder"))
	require.Empty(t, fuseDrive(t.TempDir()))
}

// Package sshsig reads and writes SSH signatures (OpenSSH PROTOCOL.sshsig) in
// one narrow form and makes and checks the bytes under them. Nothing here
// touches a file, a clock or a source of randomness.
//
// # The blob
//
// A string is a length of four bytes, high byte first, and that many bytes.
//
//	"SSHSIG"                                     6 bytes, no length before them
//	1                                            version, 4 bytes
//	string: string "ssh-ed25519", string KEY     KEY is 32 bytes (RFC 8709 section 4)
//	string: NAMESPACE                            not empty
//	string: (empty)                              reserved
//	string: "sha512"
//	string: string "ssh-ed25519", string R S     64 bytes (RFC 8709 section 6)
//
// With the namespace of an entry that is 186 bytes, in base64 248 characters.
// Ed25519 signs another string of bytes, see [Message].
//
// # What is refused
//
// Every other key type, hash, version, a reserved field with content, a byte
// too many: what [Build] would not write, [Parse] does not read. S not below
// the group order (RFC 8032 section 5.1.7). Keys that are not of prime order
// or not written canonically (see [PublicKey.Check]): under some of them any
// words verify. ssh-keygen 9.2p1 lets several of these through, so its
// agreement is necessary and not enough.
package sshsig

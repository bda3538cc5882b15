// Package format is the specification of the lapmark ledger, version 1, and
// its reader and writer. It is frozen: what it says holds for every ledger
// ever written.
//
// # Ledger
//
// A ledger is the record of one coach. It is a text: its leaves one after the
// other, nothing between, before or behind them; at most 100,000.
//
// # Leaf
//
// An entry is two lines, together the leaf, at most 65,535 bytes:
//
//	L1  {"at":"…","body":{…},"key":"SHA256:…","kind":"…","prev":{"root":"…","size":n},"v":1}
//	L2  base64 of the signature blob, 248 characters
//	leaf = L1 0x0A L2 0x0A
//
// L1 has exactly these six members:
//
//   - at: the writer's clock, UTC, 20 characters, 2026-05-04T13:22:11Z, a real
//     date and time with seconds 00 to 59. It proves nothing and no reader
//     rejects an entry for it.
//   - body: an object; what may stand in it depends on the kind and grows.
//   - key: the fingerprint of the key in L2, SHA256: and the base64 without
//     padding of the SHA-256 of the OpenSSH key blob.
//   - kind: a word.
//   - prev: size (how many leaves stand before this one) and root (their
//     RFC 6962 tree root, base64). So every signature covers all that came
//     before. Entries are numbered from 1: number = prev.size + 1.
//   - v: 1. A higher integer is read alike and shown as newer than this
//     program.
//
// # Canonical JSON
//
// L1 is canonical JSON, and a reader refuses any line that the one encoder
// would not write byte for byte. The output is valid RFC 8785.
//
//   - Objects, arrays, texts, true, false, and integers within ±(2^53-1).
//     No null, no fraction, no exponent, no -0, no name twice.
//   - No spaces. Member names in byte order; each a word: [a-z][a-z0-9-]{0,39}.
//   - At most 16 deep; the object of L1 is depth 1.
//   - Only \" and \\ are escaped. Forbidden in every text: C0, DEL, C1, 061C,
//     200B–200F, 2028–202E, 2060–2069, FEFF, FFF9–FFFB, noncharacters,
//     E0000–E007F, lone surrogates, bad UTF-8. Text is made NFC where it is
//     typed, never here.
//
// # Encodings
//
// Base64 in L2, root and keys: RFC 4648 section 4, with padding. Salts, slips
// and commitments: section 5 (URL alphabet), no padding. Hex is in small
// letters. Base 32 is Crockford's alphabet 0123456789ABCDEFGHJKMNPQRSTVWXYZ,
// first bits first. Unused bits are 0; a reader refuses anything else.
//
// # Hashes
//
// Leaf hash SHA-256(0x00 ‖ leaf), node SHA-256(0x01 ‖ left ‖ right), root of
// nothing SHA-256 of nothing (RFC 6962 section 2.1). The ledger id is the leaf
// hash of entry 1. The ID of a coach file is its first 60 bits in base 32. The
// head code is the first 100 bits of SHA-256("lapmark head\n" ‖ ledger id ‖
// size in decimal ‖ root) in base 32, in groups of four.
//
// # Signature
//
// L2 is an OpenSSH signature blob (PROTOCOL.sshsig) over L1 0x0A: "SSHSIG",
// uint32 1, then strings (uint32 length, bytes): the ssh-ed25519 public key
// (51 bytes), namespace entry.v1@lapmark, empty, "sha512", the signature (83
// bytes): 186 bytes in all. S lies below the group order; the public key is
// canonical and of prime order. A member accept (key-change, hand-over) is the
// same blob in namespace accept.v1@lapmark over L1′ 0x0A, where L1′ is the
// canonical line with accept left out of the body.
//
// # Commitments
//
// The member private of a body holds commitments by name. A slip opens one:
// base64url of the canonical array ["salt","name","value"], the salt 16 random
// bytes in base64url, the value always a text; the joiners 200C and 200D may
// stand in it. The commitment is base64url of the SHA-256 of the slip's ASCII
// (the formula of RFC 9901 section 4.2). A private field without a value is 32
// random bytes. Nothing else in an entry is ever a hash of a private value.
//
// # Roles
//
// Entry 1 is the intake, and no other entry is one; its key is house. The
// house writes every kind but key-change; the recovery key, named by its
// fingerprint, writes key-change and nothing else; any other key is a guest
// and writes what a guest may. Roles follow from kinds and bodies as signed.
//
// # Order of checking
//
// Canonical line, numbers, prev, signature, key = signature key, role: what a
// key may write is asked only of words that it signed. The first entry that
// fails is named, with the first of these it fails; the entries before it stay
// readable. The order decides which reason is given, never what holds.
package format

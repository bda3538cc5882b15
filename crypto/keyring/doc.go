// Package keyring keeps the keys of a shop and the lists of keys it vouches
// for: the passphrase-protected OpenSSH key file, a key in an SSH agent, the
// recovery key on a sheet of paper, the files trust and trust-retired, and the
// demo keys that everybody knows.
//
// Every signer of this package verifies a signature before handing it out.
package keyring

// Checks from other hands: two canonicalisers of RFC 8785 on every line of an
// exported ledger, a strict Ed25519 on every signature, and two VIN checkers on
// the VINs of the tests.
// Usage: node check.mjs LEDGER VIN_CSV
import { readFileSync } from 'node:fs'
import canonicalize from 'canonicalize'
import { canonicalize as second } from 'json-canonicalize'
import { verifyAsync } from '@noble/ed25519'
import { createHash } from 'node:crypto'
import { createRequire } from 'node:module'

const require = createRequire(import.meta.url)
const vinValidator = require('vin-validator')
const vroom = require('@vroomlabs/vin-validate')

let passed = 0
let failed = 0
function check(ok, what) {
  if (ok) passed++
  else {
    failed++
    console.log('FAILED: ' + what)
  }
}

const lines = readFileSync(process.argv[2], 'utf8').split('\n')
for (let i = 0; i + 1 < lines.length; i += 2) {
  const entry = i / 2 + 1
  check(canonicalize(JSON.parse(lines[i])) === lines[i], `entry ${entry}: canonicalize`)
  check(second(JSON.parse(lines[i])) === lines[i], `entry ${entry}: json-canonicalize`)
  const blob = Buffer.from(lines[i + 1], 'base64')
  const key = blob.subarray(10 + 4 + 4 + 11 + 4, 10 + 4 + 4 + 11 + 4 + 32)
  const sig = blob.subarray(blob.length - 64)
  const part = (b) => Buffer.concat([Buffer.from([0, 0, 0, b.length]), b])
  const digest = createHash('sha512').update(lines[i] + '\n').digest()
  const message = Buffer.concat([
    Buffer.from('SSHSIG'), part(Buffer.from('entry.v1@lapmark')), part(Buffer.alloc(0)), part(Buffer.from('sha512')), part(digest),
  ])
  check(await verifyAsync(sig, message, key, { zip215: false }), `entry ${entry}: strict Ed25519`)
}

const validate = vinValidator.validate ?? vinValidator.default?.validate ?? vinValidator
for (const row of readFileSync(process.argv[3], 'utf8').split('\n')) {
  const m = row.match(/^(VIN-\d+),check character,vin=([A-Z0-9]{8})_([A-Z0-9]{8}),([0-9X]),/)
  if (!m) continue
  const vin = m[2] + m[4] + m[3]
  check(validate(vin), `${m[1]} ${vin}: vin-validator`)
  check(vroom.checkDigitFromVin(vin) === m[4], `${m[1]} ${vin}: vin-validate`)
}

console.log(`${passed} passed, ${failed} failed`)
process.exit(failed === 0 && passed > 0 ? 0 : 1)

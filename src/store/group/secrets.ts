import { createHash, randomBytes } from 'node:crypto';
import { hash, verify } from '@node-rs/argon2';
import type { Secrets } from '../../actions/index.ts';

/**
 * Passwords by Argon2id with 19 MiB, 2 passes, 1 lane: the first of the parameter sets that OWASP's password storage cheat
 * sheet gives as equally strong (from memory, unverified); RFC 9106 describes the function.
 */
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

export const secrets: Secrets = {
  hash: (password) => hash(password.normalize('NFKC'), COST),
  verify: (secret, password) => verify(secret, password.normalize('NFKC')).catch(() => false),
  // 32 signs of 31 that are not mistaken for each other when typed: over 150 bits (the first 8 of 256 are a little likelier).
  code: () => Array.from(randomBytes(32), (byte) => 'abcdefghjkmnpqrstuvwxyz23456789'[byte % 31]).join(''),
  sha256: (text) => createHash('sha256').update(text).digest('hex'),
};

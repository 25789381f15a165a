import { describe, expect, it } from 'vitest';
import { CODE_LASTS_MS, DEVICE_LASTS_MS, MOST_TRIES, pairingDesk } from './pairing.ts';
import { isPrivate } from './private-addresses.ts';

const desk = () => {
  let now = 1_000_000;
  return { ...{ pass: (ms: number) => (now += ms) }, desk: pairingDesk(() => now) };
};

describe('pairing', () => {
  it('lets in one device by the code on offer, however it is typed, and spends the code', () => {
    const { desk: d } = desk();
    const { code } = d.offer();
    const first = d.accept(code.toLowerCase().replace('-', ' '), 'my telephone');
    expect(first).toMatchObject({ ok: true, value: { device: { name: 'my telephone' } } });
    expect(d.accept(code, 'another')).toMatchObject({ ok: false, refusal: { why: 'no-pairing' } });
    expect(d.devices).toHaveLength(1);
    expect(first.ok && d.deviceOf(first.value.token)?.id).toBe(d.devices[0]!.id);
    expect(d.deviceOf('guessed')).toBeNull();
  });

  it('ends a code after five minutes, and a device after twelve hours', () => {
    const { desk: d, pass } = desk();
    const { code } = d.offer();
    pass(CODE_LASTS_MS + 1);
    expect(d.offered).toBeNull();
    expect(d.accept(code, 'late')).toMatchObject({ refusal: { why: 'no-pairing' } });
    const paired = d.accept(d.offer().code, 'in time');
    if (!paired.ok) throw new Error('not paired');
    pass(DEVICE_LASTS_MS + 1);
    expect(d.deviceOf(paired.value.token)).toBeNull();
    expect(d.devices).toEqual([]);
  });

  it('ends a code after ten wrong tries', () => {
    const { desk: d } = desk();
    const { code } = d.offer();
    for (let n = 0; n < MOST_TRIES; n++) {
      expect(d.accept('0000-000Z', 'guesser')).toMatchObject({ refusal: { why: 'wrong-code' } });
    }
    expect(d.accept(code, 'too late')).toMatchObject({ refusal: { why: 'no-pairing' } });
  });

  it('forgets a device that is revoked, and all when the network is closed', () => {
    const { desk: d } = desk();
    const tokens = ['a', 'b'].map((name) => {
      const paired = d.accept(d.offer().code, name);
      if (!paired.ok) throw new Error('not paired');
      return paired.value;
    });
    expect(d.revoke(tokens[0]!.device.id)).toBe(true);
    expect(d.revoke(tokens[0]!.device.id)).toBe(false);
    expect(d.deviceOf(tokens[0]!.token)).toBeNull();
    expect(d.deviceOf(tokens[1]!.token)).not.toBeNull();
    d.forgetAll();
    expect(d.deviceOf(tokens[1]!.token)).toBeNull();
  });

  it('draws codes that differ', () => {
    const { desk: d } = desk();
    expect(new Set(Array.from({ length: 500 }, () => d.offer().code)).size).toBe(500);
  });
});

describe('private addresses', () => {
  it.each(['10.0.0.7', '172.16.0.1', '172.31.255.1', '192.168.178.20'])('takes %s', (address) => {
    expect(isPrivate(address)).toBe(true);
  });
  it.each([
    '172.32.0.1',
    '11.0.0.1',
    '192.169.1.1',
    '8.8.8.8',
    '127.0.0.1',
    '10.0.0',
    '10.0.0.256',
    'fe80::1',
  ])('refuses %s', (address) => {
    expect(isPrivate(address)).toBe(false);
  });
});

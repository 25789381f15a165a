import { describe, expect, it } from 'vitest';
import { ROUTES, type RouteName } from '../api/index.ts';
import { may, type Role } from '../study/index.ts';
import { rightFor } from './rights.ts';

const names = Object.keys(ROUTES) as RouteName[];
const openTo = (role: Role): RouteName[] =>
  names.filter((name) => {
    const right = rightFor(name);
    return right !== 'nobody' && may(role, right);
  });

describe('the table of rights', () => {
  it('lets nobody in without an account but to come in', () => {
    const open = names.filter((name) => rightFor(name) === 'nobody').sort();
    expect(open).toEqual(['acceptPairing', 'join', 'me', 'newPassword', 'signIn']);
  });

  it('gives a scorer blinded rounds, the names of studies, what is theirs, and calculations on numbers', () => {
    const scoring: RouteName[] = ['blindPicture', 'lockRound', 'readCard', 'scoring'];
    const own: RouteName[] = ['changePassword', 'laboratory', 'signOut', 'studies'];
    const calculations: RouteName[] = ['claimFromCounts', 'flow', 'planDesign', 'planLimits'];
    expect(openTo('scorer').sort()).toEqual([...scoring, ...own, ...calculations].sort());
  });

  it('keeps accounts, codes, the network and studies from elsewhere to owners', () => {
    const bench = openTo('bench');
    const owners = openTo('owner').filter((name) => !bench.includes(name));
    const people: RouteName[] = [
      'accounts',
      'changeAccount',
      'codeForPassword',
      'invite',
      'takeBackInvitation',
    ];
    const network: RouteName[] = ['closeNetwork', 'network', 'offerPairing', 'openNetwork', 'revokeDevice'];
    expect(owners.sort()).toEqual([...people, ...network, 'unpackStudy'].sort());
  });

  it('lets a reader change nothing but what is their own', () => {
    const changing = openTo('reader').filter((name) => ROUTES[name].method !== 'get');
    const calculations: RouteName[] = ['claimFromCounts', 'flow', 'planDesign', 'planLimits'];
    expect(changing.sort()).toEqual([...calculations, 'changePassword', 'signOut'].sort());
  });
});

/** Telephones on the same network, let in by a short-lived code. */
import { z } from 'zod';

export const DeviceJson = z
  .object({
    id: z.string(),
    name: z.string(),
    since: z.string(),
    seen: z.string().describe('When it last asked for something.'),
    until: z.string().describe('When it must be paired anew.'),
  })
  .meta({ id: 'Device' });
export type DeviceJson = z.infer<typeof DeviceJson>;

export const NetworkJson = z
  .object({
    open: z.boolean(),
    address: z.string().nullable().describe('Where telephones of the same network reach it; null: closed.'),
    choices: z
      .array(z.object({ name: z.string(), address: z.string() }))
      .describe('Private addresses of this machine that it could be opened on.'),
    pairing: z
      .object({ code: z.string(), link: z.string(), until: z.string() })
      .nullable()
      .describe('The code on offer; it lets in one device.'),
    devices: z.array(DeviceJson),
  })
  .meta({ id: 'Network' });
export type NetworkJson = z.infer<typeof NetworkJson>;

export const OpenNetworkWish = z
  .object({ address: z.string().max(60).describe('One of the choices.') })
  .meta({ id: 'OpenNetworkWish' });

export const PairingWish = z
  .object({ code: z.string().max(40), name: z.string().max(60) })
  .meta({ id: 'PairingWish' });
export type PairingWish = z.infer<typeof PairingWish>;

export const Paired = z.object({ device: z.string(), until: z.string() }).meta({ id: 'Paired' });

import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { NetworkJson } from '../../api/index.ts';
import { QrSquare } from '../bench/qr-square.tsx';
import { Icon } from '../look/icons.tsx';
import { Failed, Nothing, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard, networkQuery } from '../server/queries.ts';

/** Telephones at the bench: opened on wish alone, let in one by one, sent away again. */
export function NetworkPage() {
  const { data, error, refetch } = useQuery(networkQuery);
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the network" />;
  return (
    <div className="page">
      <PlaceHead
        title="Telephones at the bench"
        lead="A telephone of the same network can carry out runs and bring in photographs. Nothing of the laboratory can be reached from the network until you open it here."
      />
      {data.open ? <Opened network={data} /> : <Closed network={data} />}
      <Section title="Good to know">
        <ul className="network-facts">
          <li>The connection is not encrypted: open it on a network that you trust, not in a café.</li>
          <li>
            A paired telephone may read runs and filters, carry out runs and bring in photographs. It cannot
            mark particles, change the procedure, or open anything.
          </li>
          <li>Closing it, or stopping the program, sends every telephone away.</li>
        </ul>
      </Section>
    </div>
  );
}

function useDeed<T extends unknown[]>(deed: (...given: T) => Promise<NetworkJson>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (given: T) => heard(deed(...given)),
    onSuccess: (network) => client.setQueryData(networkQuery.queryKey, network),
  });
}

function Closed({ network }: { network: NetworkJson }) {
  const open = useDeed((address: string) => ask('openNetwork', {}, { address }));
  if (network.choices.length === 0) {
    return (
      <Nothing icon="warn" title="This computer is on no private network">
        <p>Join the Wi-Fi or cable of your laboratory, then load this page anew.</p>
      </Nothing>
    );
  }
  return (
    <>
      <p>Choose the network of your laboratory:</p>
      <ul className="network-choices">
        {network.choices.map(({ name, address }) => (
          <li key={address}>
            <button
              type="button"
              className="button primary"
              disabled={open.isPending}
              onClick={() => open.mutate([address])}
            >
              Open it at {address} <small>({name})</small>
            </button>
          </li>
        ))}
      </ul>
      <Trouble error={open.error} />
    </>
  );
}

function Opened({ network }: { network: NetworkJson }) {
  const client = useQueryClient();
  const offer = useDeed(() => ask('offerPairing'));
  const close = useDeed(() => ask('closeNetwork'));
  const revoke = useDeed((device: string) => ask('revokeDevice', { device }));
  const left = useSecondsUntil(network.pairing?.until ?? null);
  // Paired or lapsed: what is on offer is asked for again.
  useEffect(() => {
    const beat = setInterval(() => void client.invalidateQueries({ queryKey: networkQuery.queryKey }), 2000);
    return () => clearInterval(beat);
  }, [client]);
  return (
    <>
      <p className="network-open" role="status">
        <Icon name="warn" size={20} /> Open to paired telephones at <strong>{network.address}</strong>{' '}
        <button type="button" className="button" onClick={() => close.mutate([])}>
          Close it
        </button>
      </p>
      {network.pairing && left > 0 ? (
        <div className="pairing">
          <QrSquare code={network.pairing.link} what="Address to pair at" />
          <div>
            <p>Scan this with the telephone’s camera, in the same network.</p>
            <p>
              Or open <strong>{network.address}/pair</strong> there and type{' '}
              <strong className="short-code">{network.pairing.code}</strong>
            </p>
            <p role="timer">
              Lets in one telephone, for {Math.floor(left / 60)}:{String(left % 60).padStart(2, '0')} more.
            </p>
          </div>
        </div>
      ) : (
        <p>
          <button type="button" className="button primary" onClick={() => offer.mutate([])}>
            Pair a telephone
          </button>
        </p>
      )}
      <Section title="Paired">
        {network.devices.length === 0 ? (
          <p>No telephone yet.</p>
        ) : (
          <ul className="fraction-list">
            {network.devices.map((device) => (
              <li key={device.id}>
                <span>
                  <strong>{device.name}</strong>, last seen {clock(device.seen)}, until {clock(device.until)}
                </span>
                <button type="button" className="button" onClick={() => revoke.mutate([device.id])}>
                  Send it away<span className="unseen"> {device.name}</span>
                </button>
              </li>
            ))}
          </ul>
        )}
      </Section>
      <Trouble error={offer.error ?? close.error ?? revoke.error} />
    </>
  );
}

function Trouble({ error }: { error: Error | null }) {
  return error ? (
    <p className="warned" role="alert">
      {error.message}
    </p>
  ) : null;
}

const clock = (at: string): string =>
  new Date(at).toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' });

function useSecondsUntil(until: string | null): number {
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    const beat = setInterval(() => setNow(Date.now()), 1000);
    return () => clearInterval(beat);
  }, []);
  return until === null ? 0 : Math.max(0, Math.ceil((Date.parse(until) - now) / 1000));
}

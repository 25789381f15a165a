import { useEffect, useState } from 'react';

/** Counts down when it is started; says when the time is over. */
export function Timer({ seconds }: { seconds: number }) {
  const [ends, setEnds] = useState<number | null>(null);
  const [now, setNow] = useState(0);
  useEffect(() => {
    if (ends === null) return;
    const tick = setInterval(() => setNow(Date.now()), 200);
    return () => clearInterval(tick);
  }, [ends]);
  const left = ends === null ? seconds : Math.max(0, Math.ceil((ends - now) / 1000));
  const start = () => {
    setNow(Date.now());
    setEnds(Date.now() + seconds * 1000);
  };
  return (
    <div className="timer">
      <output className="timer-left" aria-live={left === 0 ? 'assertive' : 'off'}>
        {left === 0 ? 'Time is over' : `${Math.floor(left / 60)}:${String(left % 60).padStart(2, '0')}`}
      </output>
      <button type="button" className="button" onClick={start}>
        {ends === null ? 'Start' : 'Start again'}
      </button>
    </div>
  );
}

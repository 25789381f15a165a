import { Component, type ReactNode } from 'react';
import { ask } from '../server/ask.ts';
import { onComeback } from '../server/presence.ts';
import { heard } from '../server/queries.ts';
import { forgetMissing, PartMissing } from './on-demand.tsx';

interface Props {
  /** Where the page is: somewhere else is tried anew by itself. */
  readonly at: string;
  readonly children: ReactNode;
}
interface State {
  readonly error: Error | null;
  readonly tried: number;
}

/** What fails inside a place stays there: the course around it goes on, and the place can be tried again. */
export class PlaceBoundary extends Component<Props, State> {
  override state: State = { error: null, tried: 0 };
  private leave: (() => void) | null = null;

  static getDerivedStateFromError(error: Error): Partial<State> {
    return { error };
  }

  override componentDidMount(): void {
    this.leave = onComeback(() => this.state.error instanceof PartMissing && this.again());
  }

  override componentDidCatch(error: Error): void {
    // Whether it is the program that is away is found out by asking it; the page then hears when it is back.
    if (error instanceof PartMissing) heard(ask('laboratory')).catch(() => {});
  }

  override componentDidUpdate(before: Props): void {
    if (before.at !== this.props.at && this.state.error) this.again();
  }

  override componentWillUnmount(): void {
    this.leave?.();
  }

  private again(): void {
    forgetMissing();
    this.setState(({ tried }) => ({ error: null, tried: tried + 1 }));
  }

  override render(): ReactNode {
    const { error, tried } = this.state;
    if (error === null) return this.props.children;
    return (
      <div className="failed" role="alert">
        <h1>This place cannot be shown</h1>
        <p>
          {error instanceof PartMissing
            ? 'This part of the page has not come from the laboratory’s program, which does not answer. It is tried again by itself when the program is back; you can also start it with “npm start”.'
            : `The page has met a fault of its own (${error.message}). What was recorded is kept.`}
        </p>
        <p>
          <button type="button" className="button primary" onClick={() => this.again()}>
            Try again
          </button>{' '}
          {tried > 0 ? (
            <button type="button" className="button quiet" onClick={() => location.reload()}>
              Load the whole page anew
            </button>
          ) : null}
        </p>
      </div>
    );
  }
}

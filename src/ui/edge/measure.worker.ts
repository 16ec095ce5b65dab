import type { MeasureAnswer, MeasureRequest } from './measureProtocol.ts';
import { createMeasurer } from './measurer.ts';

// The DOM library describes a page's global; this is a worker's.
const scope = self as unknown as {
  onmessage: ((event: MessageEvent<MeasureRequest>) => void) | null;
  postMessage(answer: MeasureAnswer): void;
};

const measurer = createMeasurer();

scope.onmessage = ({ data: request }) => {
  const { id } = request;
  try {
    if (request.kind === 'round')
      scope.postMessage({ id, kind: 'round', measured: measurer.round(request.wheel, request.round) });
    else
      scope.postMessage({
        id,
        kind: 'expected',
        expected: measurer.expected(request.wheel, request.spoke, request.how),
      });
  } catch (error) {
    scope.postMessage({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};

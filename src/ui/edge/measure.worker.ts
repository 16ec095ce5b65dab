import type { MeasureAnswer, MeasureRequest } from './measureProtocol.ts';
import { createMeasurer } from './measurer.ts';

// The DOM library describes a page's global; this is a worker's.
const scope = self as unknown as {
  onmessage: ((event: MessageEvent<MeasureRequest>) => void) | null;
  postMessage(answer: MeasureAnswer): void;
};

const measurer = createMeasurer();

type Body<A = MeasureAnswer> = A extends unknown ? Omit<A, 'id'> : never;

function answer(request: MeasureRequest): Body {
  const { kind, wheel } = request;
  switch (kind) {
    case 'round':
      return { kind, measured: measurer.round(wheel, request.round) };
    case 'expected':
      return { kind, expected: measurer.expected(wheel, request.spoke, request.how) };
    case 'expectedSpare':
      return { kind, expected: measurer.expectedSpare(wheel, request.spare, request.how) };
    case 'crossCalibrate':
      return { kind, calibrated: measurer.crossCalibrate(wheel, request.round, request.second) };
    case 'sheetTones':
      return { kind, tones: measurer.sheetTones(wheel, request.sheet, request.unit) };
  }
}

scope.onmessage = ({ data: request }) => {
  const { id } = request;
  try {
    scope.postMessage({ id, ...answer(request) });
  } catch (error) {
    scope.postMessage({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};

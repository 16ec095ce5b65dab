/** How a wheel stands while it is read: a tyre and its pressure take tension off, temperature moves it. */
export interface WheelState {
  readonly tyre: 'off' | 'on' | 'unknown';
  readonly pressureBar?: number;
  readonly temperatureC?: number;
}

// SPDX-License-Identifier: MIT
/// Something to do once nothing has moved for a while. One timer lasts through all the moves: to set one anew for each costs more
/// than what the moves change.
export class Rest {
  private timer = 0;
  private moved = 0;  // when it last did, 0: not since it was done

  constructor(private readonly ms: number, private readonly act: () => void) {}

  /// A move: the while begins anew.
  soon(): void {
    this.moved = performance.now();
    if (this.timer === 0) {
      this.wait(this.ms);
    }
  }

  /// No longer to be done.
  never(): void {
    this.moved = 0;
  }

  private wait(ms: number): void {
    this.timer = window.setTimeout(() => {
      this.timer = 0;
      const left = this.moved + this.ms - performance.now();
      if (this.moved > 0 && left > 0) {
        this.wait(left);
      } else if (this.moved > 0) {
        this.moved = 0;
        this.act();
      }
    }, ms);
  }
}

// SPDX-License-Identifier: MIT
// What is out of sight changes later: when it comes into sight, or once nothing has moved for a while. (Who has the page read aloud
// sees nothing, and finds what is there up to date all the same.)
import { Rest } from './rest';

const REST_MS = 160;

export class Sight {
  /// Whether it is in sight.
  seen = true;
  private later: (() => void) | null = null;
  private readonly rest = new Rest(REST_MS, () => this.catchUp());

  constructor(element: Element) {
    new IntersectionObserver((entries) => {
      this.seen = entries.some((entry) => entry.isIntersecting);
      if (this.seen) {
        this.catchUp();
      }
    }).observe(element);
  }

  private catchUp(): void {
    const { later } = this;
    this.drop();
    later?.();
  }

  private drop(): void {
    this.rest.never();
    this.later = null;
  }

  /// Now, or later; of several changes only the newest counts. @param now whether it cannot wait: what was there is another rig's
  show(change: () => void, now = false): void {
    if (this.seen || now) {
      this.drop();
      change();
    } else {
      this.later = change;
      this.rest.soon();
    }
  }
}

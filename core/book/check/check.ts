const MAX_FINDINGS = 200;

/** One check: how much it looked at and what it found, in sentences. */
export class Check {
  readonly name: string;
  looked = 0;
  readonly findings: string[] = [];
  private more = 0;

  constructor(name: string) {
    this.name = name;
  }

  find(sentence: string): void {
    if (this.findings.length < MAX_FINDINGS) this.findings.push(sentence);
    else this.more += 1;
  }

  result(): { name: string; passed: boolean; looked: number; findings: string[] } {
    const findings = this.more > 0 ? [...this.findings, `… and ${this.more} more of this kind.`] : this.findings;
    return { name: this.name, passed: this.findings.length === 0, looked: this.looked, findings };
  }
}

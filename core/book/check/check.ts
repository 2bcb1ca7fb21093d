import { fact, type Fact } from '../../text/say.ts';

const MAX_FINDINGS = 200;

/** One check: how much it looked at and what it found. */
export class Check {
  readonly name: Fact;
  looked = 0;
  readonly findings: Fact[] = [];
  private more = 0;

  constructor(name: Fact) {
    this.name = name;
  }

  find(finding: Fact): void {
    if (this.findings.length < MAX_FINDINGS) this.findings.push(finding);
    else this.more += 1;
  }

  result(): { name: Fact; passed: boolean; looked: number; findings: Fact[] } {
    const findings = this.more > 0 ? [...this.findings, fact('check.more', { count: this.more })] : this.findings;
    return { name: this.name, passed: this.findings.length === 0, looked: this.looked, findings };
  }
}

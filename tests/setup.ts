import fc from 'fast-check';

// A gate must give the same verdict for the same code: CI draws the same inputs each time, everybody else new ones.
if (process.env['CI']) fc.configureGlobal({ seed: 20261125 });

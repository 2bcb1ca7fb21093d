import { config } from 'zod';

// The content security policy forbids code made from strings; without this zod would try, fail and be noted in the console.
config({ jitless: true });

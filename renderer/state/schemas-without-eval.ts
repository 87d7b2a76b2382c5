import { config } from 'zod';

/** zod would try to compile its checks with eval, which the page's content policy refuses. Imported before any schema. */
config({ jitless: true });

// Who a caller is, for the limits: the name of its API key, by the same `name:digest` lines that the service reads.
// They are read for every request that brings a key, so that a change holds at once. No key is kept here, and a key
// that is in no line has no name: keys made up at random share the limit of their address.
import crypto from 'crypto';
import fs from 'fs';

const FILE = '/keys/callers';

function lines() {
    try {
        return fs.readFileSync(FILE, 'utf8').split(/[\n,]/);
    } catch (error) {
        return [];  // the service asks for no keys either
    }
}

function name(request) {
    const key = request.headersIn['X-Api-Key'];
    if (!key) {
        return '';
    }
    const digest = crypto.createHash('sha256').update(key).digest('hex');
    const found = lines().map((line) => line.split('#')[0].trim().toLowerCase().split(':'));
    const mine = found.filter((entry) => entry[1] === digest);
    return mine.length ? mine[0][0] : '';
}

export default {name};

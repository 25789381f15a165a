/** Bench tests as declarations, one folder each. None is furnished yet; the room is kept so that the floors above can count on it. */
export {};

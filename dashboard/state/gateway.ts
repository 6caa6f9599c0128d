import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import { type Api, api } from '../link/api.js';

/** The gateway that the pages ask; the page of parts gives them a pretend one. */
export const ApiContext = createContext<Api>(api);
export const useApi = (): Api => useContext(ApiContext);

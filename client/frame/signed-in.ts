/** Who is signed in, for every screen behind the sign-in. */
import { createContext, useContext } from 'react';
import { mayAs, type Person, type Role } from '#shared/contract/people.ts';

export const SignedIn = createContext<Person | undefined>(undefined);

export function usePerson(): Person {
  const person = useContext(SignedIn);
  if (person === undefined) throw new Error('this screen needs somebody signed in');
  return person;
}

export function useMay(role: Role): boolean {
  return mayAs(usePerson().role, role);
}

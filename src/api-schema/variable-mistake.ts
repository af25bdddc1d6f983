import { type GraphQLError, type GraphQLSchema, isInputObjectType } from 'graphql';

/** `Variable "$i" got invalid value { … } at "i.x"; Field "y" is not defined by type "T".` */
const INVALID = /^Variable "(\$\w+)" got invalid value .*?(?: at "([^"]+)")?; (.*)$/su;
const NOT_DEFINED = /^Field "[^"]*" is not defined by type "(\w+)"\.$/u;

/**
 * What is wrong with a variable, without the value that it was given, which a program knows: its name, the place inside, the mistake,
 * and for a field that there is not the fields that there are.
 */
export function variableMistake(schema: GraphQLSchema, { message }: GraphQLError): string {
  const [, variable, place, rest] = INVALID.exec(message) ?? [];
  if (variable === undefined || rest === undefined) return message;
  const type = schema.getType(NOT_DEFINED.exec(rest)?.[1] ?? '');
  const has = isInputObjectType(type) ? ` It has: ${Object.keys(type.getFields()).join(', ')}.` : '';
  return `Variable "${variable}"${place === undefined ? '' : ` at "${place}"`}: ${rest}${has}`;
}

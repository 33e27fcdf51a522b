/** Put in by the build, as "nextpair 1.0": the version in src/nextpair/__init__.py. */
declare const __NEXTPAIR_PROGRAM__: string;

package main

const help = `whatif TO BE WRITTEN
`
